"""Tilewitness: a second opinion on a photographed American mah-jongg rack."""
