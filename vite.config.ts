import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import react from '@vitejs/plugin-react';
import { defineConfig, type Plugin } from 'vite';

/** Writes a .gz and a .br beside every text file, so that the server never compresses while somebody waits. */
const compressed = (): Plugin => ({
  name: 'compressed',
  apply: 'build',
  writeBundle({ dir = '.' }) {
    for (const entry of readdirSync(dir, { recursive: true, withFileTypes: true })) {
      if (!entry.isFile() || !/\.(js|css|html|svg|json)$/.test(entry.name)) continue;
      const file = join(entry.parentPath, entry.name);
      const bytes = readFileSync(file);
      writeFileSync(`${file}.gz`, gzipSync(bytes, { level: 9 }));
      writeFileSync(`${file}.br`, brotliCompressSync(bytes));
    }
  },
});

/** The browser client: built into dist/web, which the server serves. `npx vite` serves it by itself, with the server's API behind it. */
export default defineConfig({
  root: 'src/web',
  plugins: [react(), compressed()],
  build: { outDir: '../../dist/web', emptyOutDir: true, target: 'es2022', manifest: true, assetsInlineLimit: 0 },
  server: { proxy: { '/api': process.env['KINLEDGER_SERVER'] ?? 'http://127.0.0.1:3000' } },
});
