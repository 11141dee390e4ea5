import { randomBytes } from 'node:crypto';
import { sha256 } from '../../ledger/append.js';

/** 32 random bytes: what a cookie or a key carries. Only its hash is stored, so a stolen database opens nothing. */
export const newToken = (): string => randomBytes(32).toString('base64url');

/** A token is 256 bits of chance, so one plain SHA-256 is enough to keep it: nothing can be guessed. */
export const tokenHash = (token: string): string => sha256(token);
