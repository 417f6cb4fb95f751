"""The loop of the asynchronous tests: hours pass at once and in their order, but other threads are waited for."""

import asyncio
import time


async def test_hours_pass_at_once_and_in_their_order() -> None:
    woken: list[int] = []

    async def sleep(hours: int) -> None:
        await asyncio.sleep(hours * 3600)
        woken.append(hours)

    begun, at = time.monotonic(), asyncio.get_running_loop().time()
    await asyncio.gather(*map(sleep, (3, 1, 2)))
    assert woken == [1, 2, 3]
    assert asyncio.get_running_loop().time() - at >= 3 * 3600
    assert time.monotonic() - begun < 3600


async def test_a_time_limit_gives_another_thread_its_real_time() -> None:
    await asyncio.wait_for(asyncio.to_thread(time.sleep, 0.05), timeout=60)
