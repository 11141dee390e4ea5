import type { MediaType } from './files.facts.js';

const LONGEST = 200;

const EXTENSIONS: Readonly<Record<MediaType, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
  'image/heic': 'heic',
  'application/pdf': 'pdf',
  'text/plain': 'txt',
};

/** What a browser can show by itself without running anything; all else is saved. */
const SHOWN: ReadonlySet<MediaType> = new Set(['image/jpeg', 'image/png', 'image/webp', 'application/pdf'] as const);

/**
 * A file's name as text for people: no path, no characters that cannot be seen. It never names anything on the disk.
 * @see docs/rules/files.md FI-2
 */
export function plainName(given: string | undefined, mediaType: MediaType): string {
  const last = (given ?? '').split(/[/\\]/).at(-1) ?? '';
  const name = [...last.replaceAll(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, '')].slice(0, LONGEST).join('').trim();
  return /^\.*$/.test(name) ? `file.${EXTENSIONS[mediaType]}` : name;
}

/** The header that names a file to whoever fetches it: in ASCII for old programs, in full by RFC 6266 for the rest. */
export function dispositionOf(name: string, mediaType: MediaType): string {
  const plain = name.replaceAll(/[^\x20-\x7e]|["\\%]/g, '_');
  const full = encodeURIComponent(name).replaceAll(/['()*]/g, (character) => `%${character.charCodeAt(0).toString(16).toUpperCase()}`);
  return `${SHOWN.has(mediaType) ? 'inline' : 'attachment'}; filename="${plain}"; filename*=UTF-8''${full}`;
}
