"""Buckets that several machines share, in Valkey or Redis.

One script reads and writes them by the server's own clock, so that clocks of machines need not agree.
"""

import asyncio
from collections.abc import Sequence
from typing import Any

from redis.asyncio import Redis
from redis.asyncio.retry import Retry
from redis.backoff import NoBackoff
from redis.exceptions import RedisError

from filmbuild.limits.buckets import Charge, Level, StoreFailed

_LONGEST_WAIT_SECONDS = 0.1
_SCRIPT = """
local clock = redis.call('TIME')
local now = tonumber(clock[1]) + tonumber(clock[2]) / 1000000
local buckets, all = {}, true
for i, key in ipairs(KEYS) do
  local span, duration = tonumber(ARGV[i * 3 - 2]), tonumber(ARGV[i * 3 - 1])
  local forced = ARGV[i * 3] == '1'
  local ahead = tonumber(redis.call('GET', key) or '0') - now
  local used = math.min(math.max(ahead, 0), span)
  local asked, wait = math.min(used + duration, span), used + duration - span
  if wait <= 0.000001 or forced then wait = 0 else all, asked = false, used end
  buckets[i] = {span=span, forced=forced, ahead=ahead, used=used, asked=asked, wait=wait}
end
local answer = {}
for i, key in ipairs(KEYS) do
  local one = buckets[i]
  local full_in = one.asked
  if not (all or one.forced) then full_in = one.used end
  if all or one.forced or one.ahead > one.span then
    local kept_for = math.ceil(one.span * 1000) + 1000
    redis.call('SET', key, string.format('%.6f', now + full_in), 'PX', kept_for)
  end
  answer[i * 2 - 1] = string.format('%.9f', full_in)
  answer[i * 2] = string.format('%.9f', one.wait)
end
return answer
"""


class ValkeyStore:
    """Waits no longer than `longest` [s], and tries nothing twice."""

    def __init__(self, url: str, longest: float = _LONGEST_WAIT_SECONDS) -> None:
        self._longest = longest
        self._client: Redis = Redis.from_url(
            url,
            socket_timeout=longest,
            socket_connect_timeout=longest,
            retry=Retry(NoBackoff(), 0),
        )
        self._script: Any = self._client.register_script(_SCRIPT)

    async def take(self, charges: Sequence[Charge]) -> tuple[Level, ...]:
        # the braces keep the buckets of one owner together where servers share the keys out
        keys = [f"filmbuild:limit:{{{one.owner}}}:{one.name}" for one in charges]
        numbers = [repr(number) for one in charges for number in _numbers(one)]
        try:
            async with asyncio.timeout(self._longest):
                answer = await self._script(keys=keys, args=numbers)
        except (RedisError, OSError, TimeoutError) as error:
            raise StoreFailed(f"the server of the limits: {error!r}") from error
        told = [float(one) for one in answer]
        return tuple(
            Level(charge=one, full_in=full_in, wait=wait)
            for one, full_in, wait in zip(charges, told[::2], told[1::2], strict=True)
        )

    async def close(self) -> None:
        await self._client.aclose()


def _numbers(charge: Charge) -> tuple[float, float, int]:
    return charge.span, charge.duration, int(charge.forced)
