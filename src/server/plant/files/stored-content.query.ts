import type { Config } from '../../platform/config.js';
import { openStored } from './file-store.js';
import type { StoredFileView } from './files.dto.js';

/** The content of a stored file; null when it is gone or not as long as it was. Its hash is for the caller to check. */
export async function storedContent(config: Config, file: StoredFileView): Promise<Buffer | null> {
  const opened = await openStored(config, file);
  if ('what' in opened) return null;
  try {
    return await opened.readFile();
  } finally {
    await opened.close();
  }
}
