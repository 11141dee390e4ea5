import { api, type View } from './client.js';

export type StoredFile = View<'StoredFileView'>;

/**
 * Stores a photograph or a paper; content that is stored already is not stored twice. What it belongs to is said by a command after it.
 * @throws Unreachable without a connection; a Problem when the server does not take it
 */
export async function uploadFile(file: File): Promise<StoredFile> {
  const form = new FormData();
  form.append('file', file, file.name);
  const { data, error } = await api.POST('/api/files', { body: form as never, bodySerializer: () => form });
  if (error !== undefined) throw error;
  return data;
}
