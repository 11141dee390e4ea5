import { type QueryRunner, Table, TableIndex } from 'typeorm';

type ColumnKind = 'integer' | 'bigint' | 'text' | 'boolean' | `varchar(${number})`;

interface TableShape {
  /** Column name to kind; a trailing `?` on the kind allows null. */
  readonly columns: Readonly<Record<string, ColumnKind | `${ColumnKind}?`>>;
  readonly primary: readonly string[];
  /** Index name to its columns. */
  readonly indexes?: Readonly<Record<string, readonly string[]>>;
  readonly uniques?: Readonly<Record<string, readonly string[]>>;
}

/** Creates one table with the same shape on both databases; index names are given, so the entity can name the same ones. */
export async function createTable(runner: QueryRunner, name: string, shape: TableShape): Promise<void> {
  const columns = Object.entries(shape.columns).map(([column, kind]) => {
    const bare = kind.replace('?', '');
    const length = /\((\d+)\)/.exec(bare)?.[1];
    return {
      name: column,
      type: bare.replace(/\(\d+\)/, ''),
      ...(length === undefined ? {} : { length }),
      isNullable: kind.endsWith('?'),
      isPrimary: shape.primary.includes(column),
    };
  });
  await runner.createTable(new Table({ name, columns }));
  for (const [index, columnNames] of Object.entries(shape.indexes ?? {})) {
    await runner.createIndex(name, new TableIndex({ name: index, columnNames: [...columnNames] }));
  }
  for (const [index, columnNames] of Object.entries(shape.uniques ?? {})) {
    await runner.createIndex(name, new TableIndex({ name: index, columnNames: [...columnNames], isUnique: true }));
  }
}
