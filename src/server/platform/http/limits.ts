import { type ExecutionContext, HttpException, Injectable, SetMetadata } from '@nestjs/common';
import { ThrottlerGuard, type ThrottlerModuleOptions, type ThrottlerStorage } from '@nestjs/throttler';
import type { Config } from '../config.js';

const MINUTE = 60_000;
const FEW_TRIES = 'few-tries';

/** A route where guessing pays, such as sign-in: it has a lower limit of its own beside the one for all routes. */
export const FewTries = (): MethodDecorator => SetMetadata(FEW_TRIES, true);

interface Count {
  hits: number;
  readonly endsAt: number;
}

/** Counts in fixed minutes, in memory and without a timer for each request. Each server process counts for itself. */
class MinuteCounts implements ThrottlerStorage {
  readonly #counts = new Map<string, Count>();

  increment(key: string, ttl: number, limit: number): ReturnType<ThrottlerStorage['increment']> {
    const now = performance.now();
    let count = this.#counts.get(key);
    if (!count || count.endsAt <= now) {
      this.#forgetEnded(now);
      count = { hits: 0, endsAt: now + ttl };
      this.#counts.set(key, count);
    }
    count.hits += 1;
    const seconds = Math.max(1, Math.ceil((count.endsAt - now) / 1000));
    return Promise.resolve({ totalHits: count.hits, timeToExpire: seconds, isBlocked: count.hits > limit, timeToBlockExpire: seconds });
  }

  #forgetEnded(now: number): void {
    if (this.#counts.size < 10_000) return;
    for (const [key, count] of this.#counts) if (count.endsAt <= now) this.#counts.delete(key);
  }
}

/** So many requests a minute from one client address, over all routes; and fewer where guessing pays. */
export const limits = (config: Config): ThrottlerModuleOptions => ({
  throttlers: [
    { name: 'all', ttl: MINUTE, limit: config.requestsPerMinute, generateKey: (_context, tracker) => tracker },
    {
      name: FEW_TRIES,
      ttl: MINUTE,
      limit: config.triesPerMinute,
      skipIf: (context) => !Reflect.hasMetadata(FEW_TRIES, context.getHandler()),
      generateKey: (_context, tracker) => `${FEW_TRIES} ${tracker}`,
    },
  ],
  setHeaders: false,
  storage: new MinuteCounts(),
});

/** Answers 429 with the seconds to wait. */
@Injectable()
export class LimitGuard extends ThrottlerGuard {
  protected override throwThrottlingException(_context: ExecutionContext, limit: { timeToBlockExpire: number }): Promise<void> {
    const retryAfterSeconds = limit.timeToBlockExpire;
    const detail = `too many requests from this client: try again in ${retryAfterSeconds} seconds`;
    throw new HttpException({ reasons: [{ code: 'too-many-tries', detail, retryAfterSeconds }] }, 429);
  }
}
