import { CommandDone } from '../ledger/command-done.entity.js';
import { LedgerEntry, LedgerHead } from '../ledger/ledger-entry.entity.js';
import { ApiKey, PersonAccount, Session, SetUpCode, SignInFailure } from '../plant/people/people.entity.js';
import { Verification } from './verification.entity.js';

/**
 * Rows beside the ledger that a backup carries: answers to commands, so that a retry after a restore is not done twice; names and
 * password hashes of people, so that they can sign in; keys of programs, as hashes.
 */
export const CARRIED: readonly Function[] = [ApiKey, CommandDone, PersonAccount];

/** What it leaves behind: the entries have lines of their own; sessions, lockouts, set-up codes and checks end with the server they were for. */
export const LEFT_BEHIND: readonly Function[] = [LedgerEntry, LedgerHead, Session, SignInFailure, SetUpCode, Verification];
