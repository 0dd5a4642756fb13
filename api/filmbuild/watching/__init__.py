"""What those who run the service see of it: logs, metrics, traces, its state and its addresses."""
