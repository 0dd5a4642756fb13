"""All open estimates at new prices: background work that can be stopped, resumed and repeated."""
