import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';

/**
 * Passwords kept as scrypt hashes, `scrypt$N$salt$hash`: the cost stands with the hash, so it can be raised and old hashes still open.
 * Block size and length are those of the scrypt paper's interactive use (r = 8, p = 1, 32 bytes).
 */
const BLOCK = 8;
const BYTES = 32;
/** scrypt needs 128 · N · r bytes; the default limit of Node stops far below the cost used here. */
const memory = (cost: number): number => 128 * cost * BLOCK * 2;

/** Two at a time: each takes 134 MB at full cost and one of the four threads the database also works on. */
const AT_ONCE = 2;
let running = 0;
const waiting: (() => void)[] = [];

async function inTurn<T>(work: () => Promise<T>): Promise<T> {
  if (running >= AT_ONCE) await new Promise<void>((resolve) => waiting.push(resolve));
  else running += 1;
  try {
    return await work();
  } finally {
    const next = waiting.shift();
    if (next) next(); // hands its place on
    else running -= 1;
  }
}

const derive = (password: string, salt: Buffer, cost: number): Promise<Buffer> =>
  inTurn(
    () =>
      new Promise((resolve, reject) => {
        // One text for one password, however the keyboard composed its accents.
        scrypt(password.normalize('NFC'), salt, BYTES, { N: cost, r: BLOCK, p: 1, maxmem: memory(cost) }, (error, key) =>
          error ? reject(error) : resolve(key),
        );
      }),
  );

/** @param cost scrypt N, a power of two */
export async function hashPassword(password: string, cost: number): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(password, salt, cost);
  return `scrypt$${cost}$${salt.toString('base64url')}$${key.toString('base64url')}`;
}

/** True when the password made the hash. Takes as long for a wrong one. */
export async function passwordFits(password: string, stored: string): Promise<boolean> {
  const [, cost, salt, key] = stored.split('$') as [string, string, string, string];
  const found = await derive(password, Buffer.from(salt, 'base64url'), Number(cost));
  return timingSafeEqual(found, Buffer.from(key, 'base64url'));
}

/** A hash no password makes: comparing with it takes as long as with a real one. */
export const decoyHash = (cost: number): string =>
  `scrypt$${cost}$${randomBytes(16).toString('base64url')}$${randomBytes(BYTES).toString('base64url')}`;

/** The cost a stored hash was made with. */
export const costOf = (stored: string): number => Number(stored.split('$')[1]);
