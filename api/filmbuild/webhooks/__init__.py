"""Messages to other systems when something happens, by the Standard Webhooks specification 1.0.

A feature calls `outbox.write` in the transaction of a change, so that there is never one without the
other. The worker sends what was written until it is received, or for some days.
"""
