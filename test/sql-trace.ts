import sqlite3 from 'sqlite3';
import type { OracleLink } from './oracle.js';

/*
 * The same question as one recursive query over link rows with spans, for comparing answers in tests and times in the
 * bench. UNION only drops rows that are equal, so overlapping spans pile up: right, and slow on misaligned repacking.
 */

export class SqlTrace {
  readonly #database: sqlite3.Database;

  private constructor(database: sqlite3.Database) {
    this.#database = database;
  }

  /** @param file made if it is not there; `fill` replaces what it holds */
  static async open(file: string): Promise<SqlTrace> {
    const database = await new Promise<sqlite3.Database>((resolve, reject) => {
      const opened = new sqlite3.Database(file, (error) => (error ? reject(error) : resolve(opened)));
    });
    const sql = new SqlTrace(database);
    await sql.run('PRAGMA journal_mode = OFF');
    await sql.run('PRAGMA synchronous = OFF');
    await sql.run(`CREATE TABLE IF NOT EXISTS link (f INTEGER, flo INTEGER, fhi INTEGER, t INTEGER, tlo INTEGER, thi INTEGER,
      one INTEGER, seq INTEGER, voided INTEGER)`);
    return sql;
  }

  async fill(links: Iterable<OracleLink>): Promise<void> {
    await this.run('DROP INDEX IF EXISTS link_f');
    await this.run('DROP INDEX IF EXISTS link_t');
    await this.run('DELETE FROM link');
    await this.run('BEGIN');
    let rows: number[][] = [];
    const flush = async (): Promise<void> => {
      const values = rows.map((row) => `(${row.join(',')})`).join(',');
      rows = [];
      if (values !== '') await this.run(`INSERT INTO link VALUES ${values}`);
    };
    for (const link of links) {
      const { fromLot, fromFirst, fromLast, toLot, toFirst, toLast, map, seq, voidedAt } = link;
      rows.push([fromLot, fromFirst, fromLast, toLot, toFirst, toLast, map === 'each' ? 1 : 0, seq, voidedAt ?? 4e9]);
      if (rows.length === 500) await flush();
    }
    await flush();
    await this.run('CREATE INDEX link_f ON link (f, flo)');
    await this.run('CREATE INDEX link_t ON link (t, tlo)');
    await this.run('COMMIT');
  }

  /** Every (lot, first, last) the recursion arrives at, origin included, overlaps and all; bulk lots have 0, 0. */
  trace(
    direction: 'forward' | 'backward',
    origin: { lot: number; first: number; last: number },
    asKnownAt: number,
  ): Promise<{ lot: number; lo: number; hi: number }[]> {
    return this.all(SqlTrace.query(direction, 'SELECT lot, lo, hi FROM r'), [origin.lot, origin.first, origin.last, asKnownAt, asKnownAt]);
  }

  /** As `trace`, with the spans united in SQL: the number of pieces reached. */
  async countPieces(
    direction: 'forward' | 'backward',
    origin: { lot: number; first: number; last: number },
    asKnownAt: number,
  ): Promise<number> {
    const rows = await this.all<{ pieces: number | null }>(
      SqlTrace.query(
        direction,
        `, o AS (SELECT lot, lo, hi, max(hi) OVER (PARTITION BY lot ORDER BY lo, hi ROWS BETWEEN UNBOUNDED PRECEDING AND 1 PRECEDING) ph
           FROM r WHERE lo > 0),
         g AS (SELECT lot, lo, hi, sum(CASE WHEN ph IS NULL OR lo > ph + 1 THEN 1 ELSE 0 END)
           OVER (PARTITION BY lot ORDER BY lo, hi ROWS UNBOUNDED PRECEDING) grp FROM o),
         u AS (SELECT lot, min(lo) lo, max(hi) hi FROM g GROUP BY lot, grp)
         SELECT sum(hi - lo + 1) pieces FROM u`,
      ),
      [origin.lot, origin.first, origin.last, asKnownAt, asKnownAt],
    );
    return rows[0]?.pieces ?? 0;
  }

  static query(direction: 'forward' | 'backward', then: string): string {
    const [f, flo, fhi, t, tlo, thi] =
      direction === 'forward' ? ['f', 'flo', 'fhi', 't', 'tlo', 'thi'] : ['t', 'tlo', 'thi', 'f', 'flo', 'fhi'];
    return `WITH RECURSIVE r(lot, lo, hi) AS (SELECT CAST(? AS INTEGER), CAST(? AS INTEGER), CAST(? AS INTEGER)
      UNION SELECT l.${t},
        CASE WHEN l.one = 1 THEN l.${tlo} + max(r.lo, l.${flo}) - l.${flo} ELSE l.${tlo} END,
        CASE WHEN l.one = 1 THEN l.${tlo} + min(r.hi, l.${fhi}) - l.${flo} ELSE l.${thi} END
      FROM r JOIN link l ON l.${f} = r.lot
      WHERE (l.${flo} = 0 OR (l.${flo} <= r.hi AND l.${fhi} >= r.lo)) AND l.seq <= ? AND l.voided > ?)
      ${then}`;
  }

  run(statement: string): Promise<void> {
    return new Promise((resolve, reject) => this.#database.exec(statement, (error) => (error ? reject(error) : resolve())));
  }

  all<Row>(statement: string, values: readonly number[] = []): Promise<Row[]> {
    return new Promise((resolve, reject) =>
      this.#database.all<Row>(statement, values, (error, rows) => (error ? reject(error) : resolve(rows))),
    );
  }

  close(): Promise<void> {
    return new Promise((resolve, reject) => this.#database.close((error) => (error ? reject(error) : resolve())));
  }
}
