"""The shipped networks and the one place that opens them."""
