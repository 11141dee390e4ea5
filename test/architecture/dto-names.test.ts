import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

/** The API document knows a class by its name alone: of two with one name it would keep one, and tell lies about the other. */
it('no two classes of the wire have the same name', () => {
  const files = readdirSync('src/server', { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.dto.ts'));
  const named = files.flatMap((file) =>
    [...readFileSync(join('src/server', file), 'utf8').matchAll(/^export class (\w+)/gmu)].map(([, name]) => ({ name, file })),
  );
  const twice = named.filter(({ name, file }) => named.some((other) => other.name === name && other.file !== file));
  expect(named.length).toBeGreaterThan(100);
  expect(twice).toEqual([]);
});
