import { PayloadTooLargeException } from '@nestjs/common';
import { type Reason, Refusal } from '../../../../shared/refusal.js';
import type { Config } from '../../platform/config.js';
import { brokeOff, type UploadedPart, type UploadRequest } from '../../platform/http/multipart.js';
import { FileWriter } from './file-store.js';
import { plainName } from './file-name.js';
import type { StoredFile } from './files.facts.js';
import { MediaSniffer } from './media-type.js';

const malformed = (code: string, detail: string): Refusal => new Refusal('malformed', [{ code, detail }]);
const faulty = (reason: Reason): Refusal => new Refusal('faulty-file', [reason]);

const TAKEN = 'JPEG, PNG, WebP and HEIC pictures, PDF, and text in UTF-8, as CSV is';

/** The file of a multipart body while it comes in. */
interface Incoming {
  readonly part: UploadedPart & { readonly file: NonNullable<UploadedPart['file']> };
  readonly writer: FileWriter;
  readonly sniffer: MediaSniffer;
  /** Why it could not be written: the rest was read all the same, since a browser hears no answer while it is sending. */
  fault: unknown;
}

/**
 * Takes the one file of a multipart body into the store and answers what it is. It is durable then, and in no entry yet.
 * @throws Refusal or 413 for anything but one whole file of a kind and size that are taken; nothing stays of it
 * @see docs/rules/files.md FI-2
 */
export async function receiveFile(request: UploadRequest, config: Config): Promise<StoredFile> {
  if (request.isMultipart?.() !== true || !request.parts) {
    throw malformed('not-multipart', 'send the file as multipart/form-data, in one part named file');
  }
  const fileSize = config.largestFileMegabytes * 1_000_000;
  const parts = request.parts({
    limits: { fileSize, files: 1, fields: 0, parts: 1 },
    throwFileSizeLimit: false,
    defParamCharset: 'utf8',
  });
  let incoming: Incoming | null = null;
  try {
    for await (const one of parts) {
      incoming = await begun(one as UploadedPart, config);
      await takeIn(incoming);
    }
    if (!incoming) throw malformed('file-missing', 'the body holds no part named file');
    return await checked(incoming, config);
  } catch (error) {
    throw refusalOf(error);
  } finally {
    await incoming?.writer.discard();
  }
}

async function begun(part: UploadedPart, config: Config): Promise<Incoming> {
  const { file } = part;
  if (!file || part.fieldname !== 'file') {
    file?.resume();
    throw malformed('file-missing', `the body holds a part named ${part.fieldname}: send one part, a file, named file`);
  }
  return { part: { ...part, file }, writer: await FileWriter.begin(config), sniffer: new MediaSniffer(), fault: null };
}

async function takeIn(incoming: Incoming): Promise<void> {
  const { part, writer, sniffer } = incoming;
  for await (const chunk of part.file) {
    if (incoming.fault) continue;
    sniffer.add(chunk as Buffer);
    try {
      await writer.write(chunk as Buffer);
    } catch (error) {
      incoming.fault = error;
    }
  }
}

async function checked({ part, writer, sniffer, fault }: Incoming, config: Config): Promise<StoredFile> {
  if (fault) throw fault;
  if (part.file.truncated) {
    const detail = `the file is larger than ${config.largestFileMegabytes} MB, the most that is taken`;
    throw new PayloadTooLargeException({ reasons: [{ code: 'file-too-large', detail, megabytes: config.largestFileMegabytes }] });
  }
  const { bytes } = writer;
  if (bytes === 0) throw faulty({ code: 'file-empty', detail: 'the file is empty' });
  const mediaType = sniffer.end();
  if (mediaType === null) {
    throw faulty({ code: 'file-kind-not-taken', detail: `by its content the file is none of what is taken: ${TAKEN}` });
  }
  return { sha256: await writer.keep(), name: plainName(part.filename, mediaType), mediaType, bytes };
}

function refusalOf(error: unknown): unknown {
  const { code = '' } = error as { code?: string };
  if (/^FST_(PARTS|FILES|FIELDS)_LIMIT$/.test(code))
    return malformed('one-file-only', 'send one part, a file, named file, and nothing else');
  return brokeOff(error)
    ? malformed('upload-broke-off', 'the upload broke off before its end: nothing was stored; send the file again')
    : error;
}
