import type { View } from '../wire/client.js';

/** What a file can be to a lot, in words. */
export const FILE_KINDS: Readonly<Record<View<'LotFileView'>['what'], string>> = {
  certificate: 'certificate',
  'test-report': 'test report',
  photograph: 'photograph',
  other: 'other',
};
