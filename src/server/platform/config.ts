import { join } from 'node:path';
import { currencyFault } from '../../../shared/currency.js';
import { Reasons } from '../../../shared/refusal.js';
import { codeFault } from '../../../shared/plain-text.js';

/** What an installation can set, all of it by environment or command line. Read once, at start. */
export interface Config {
  /** Folder of the SQLite file, stored files and the genealogy snapshot. */
  readonly dataDir: string;
  /** postgres:// address; absent means SQLite in `dataDir`. */
  readonly databaseUrl: string | undefined;
  readonly host: string;
  readonly port: number;
  /** File of the key that signs checkpoints; absent means one in `dataDir`. Elsewhere, who holds the data folder cannot sign. */
  readonly checkpointKey: string | undefined;
  /** What the plant is called on documents. */
  readonly plantName: string;
  /** Pattern of plant lot codes: `{class}` one letter of the item class, `{yy}` year, `{n:5}` running number with leading zeros. */
  readonly lotPattern: string;
  /** scrypt cost N (a power of two). Tests lower it; nothing else should. */
  readonly scryptCost: number;
  readonly logLevel: string;
  /** True in a demonstration folder: default passwords exist there and nowhere else. */
  readonly demo: boolean;
  /** Requests a minute and client before 429; sign-in has its own, lower limit. */
  readonly requestsPerMinute: number;
  /** Tries a minute and client at sign-in and set-up. */
  readonly triesPerMinute: number;
  /** The largest photograph, certificate or report that is taken, in millions of bytes. */
  readonly largestFileMegabytes: number;
  /** Currency of every cost in the record, a code of ISO 4217. Amounts are its minor units: it is set once. */
  readonly currency: string;
}

/**
 * What the environment and the command line set, the rest as it is by default.
 * @throws Refusal `setting-wrong` naming every setting that cannot be used: found at start, not by the first delivery
 */
export function readConfig(env: NodeJS.ProcessEnv, over: Partial<Config> = {}): Config {
  const config = settings(env, over);
  const no = new Reasons();
  const wrong = (setting: string, why: string): void => no.malformed('setting-wrong', `${setting} ${why}`, { setting });
  if (!Number.isInteger(config.port) || config.port < 0 || config.port > 65_535) wrong('PORT', 'is a whole number from 0 to 65535');
  if (!Number.isInteger(config.requestsPerMinute) || config.requestsPerMinute < 1) {
    wrong('KINLEDGER_REQUESTS_PER_MINUTE', 'is a whole number of at least 1');
  }
  if (!Number.isInteger(config.largestFileMegabytes) || config.largestFileMegabytes < 1 || config.largestFileMegabytes > 1000) {
    wrong('KINLEDGER_LARGEST_FILE_MB', 'is a whole number from 1 to 1000');
  }
  const currency = currencyFault(config.currency);
  if (currency !== null) wrong('KINLEDGER_CURRENCY', currency);
  const pattern = patternFault(config.lotPattern);
  if (pattern !== null) wrong('KINLEDGER_LOT_PATTERN', pattern);
  no.throwIfAny();
  return config;
}

/** Why codes cannot be made by a pattern, or null. Without a running number every second lot would want a code that is taken. */
function patternFault(pattern: string): string | null {
  const rest = pattern.replaceAll(/\{(class|yyyy|yy|mm)\}/g, '').replace(/\{n:[1-9]\}/, '');
  if (!/\{n:[1-9]\}/.test(pattern)) return 'needs a running number of 1 to 9 digits, as {n:5}';
  if (/[{}]/.test(rest)) return 'knows {class}, {yy}, {yyyy}, {mm} and, once, {n:5}, and no other braces';
  const fault = codeFault(pattern.replaceAll(/[{}:]/g, ''));
  return fault === null ? null : `would make codes of which each ${fault}`;
}

function settings(env: NodeJS.ProcessEnv, over: Partial<Config>): Config {
  return {
    dataDir: over.dataDir ?? env['KINLEDGER_DATA'] ?? 'data',
    databaseUrl: over.databaseUrl ?? (env['DATABASE_URL'] || undefined),
    host: over.host ?? env['HOST'] ?? '127.0.0.1',
    port: over.port ?? Number(env['PORT'] ?? 3000),
    checkpointKey: over.checkpointKey ?? (env['KINLEDGER_CHECKPOINT_KEY'] || undefined),
    plantName: over.plantName ?? env['KINLEDGER_PLANT_NAME'] ?? 'The plant',
    lotPattern: over.lotPattern ?? env['KINLEDGER_LOT_PATTERN'] ?? '{class}{yy}-{n:5}',
    scryptCost: over.scryptCost ?? 2 ** 17,
    logLevel: over.logLevel ?? env['LOG_LEVEL'] ?? 'info',
    demo: over.demo ?? false,
    requestsPerMinute: over.requestsPerMinute ?? Number(env['KINLEDGER_REQUESTS_PER_MINUTE'] ?? 1200),
    triesPerMinute: over.triesPerMinute ?? 30,
    largestFileMegabytes: over.largestFileMegabytes ?? Number(env['KINLEDGER_LARGEST_FILE_MB'] ?? 20),
    currency: over.currency ?? env['KINLEDGER_CURRENCY'] ?? 'EUR',
  };
}

export const CONFIG = Symbol('Config');

export const sqliteFile = (config: Config): string => join(config.dataDir, 'kinledger.sqlite');
