"""What a rack is worth to a card: faces, cards, hands, opinions. Knows nothing of photographs."""
