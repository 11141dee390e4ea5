import type { PlantFact } from '../stock/effects.facts.js';

/** How a stored file is named everywhere: SHA-256 of its content, 64 hexadecimal digits in lower case. */
export const FILE_HASH = /^[0-9a-f]{64}$/;

/** The kinds of file that are taken. What a file is follows from its content, never from its name. */
export const MEDIA_TYPES = ['image/jpeg', 'image/png', 'image/webp', 'image/heic', 'application/pdf', 'text/plain'] as const;
export type MediaType = (typeof MEDIA_TYPES)[number];

/** What a file is to a lot. */
export const ATTACHED_AS = ['certificate', 'test-report', 'photograph', 'other'] as const;
export type AttachedAs = (typeof ATTACHED_AS)[number];

/** A file as the record knows it. */
export interface StoredFile {
  readonly sha256: string;
  /** As the sender called it, without a path. */
  readonly name: string;
  readonly mediaType: MediaType;
  readonly bytes: number;
}

/** A file stands on the disk, whole and durable; from here on the record may name it. */
export type FileStored = PlantFact & StoredFile & { readonly kind: 'FileStored'; readonly v: 1 };

/** A stored file belongs to a lot. The entry's number is the number of the attachment. */
export type FileAttached = PlantFact & {
  readonly kind: 'FileAttached';
  readonly v: 1;
  readonly lot: string;
  readonly sha256: string;
  /** Name of the file, so that the entry can be read by itself. */
  readonly name: string;
  readonly what: AttachedAs;
  readonly note?: string | undefined;
};

/** An attachment was wrong. Both entries stay readable, and so does the file. */
export type FileDetached = PlantFact & {
  readonly kind: 'FileDetached';
  readonly v: 1;
  readonly lot: string;
  readonly sha256: string;
  readonly name: string;
  /** Entry of the attachment that is taken back. */
  readonly corrects: number;
  readonly reason: string;
};
