import { riverCustomerId, riverLotId } from '../../../shared/river-of-trace.js';

/** What marks and chooses the same thing in river, ribbon and table: each as the id of its node in the river. */
export interface Views {
  readonly marked: string | null;
  readonly onMark: (id: string | null) => void;
  readonly chosen: string | null;
  readonly onChoose: (id: string | null) => void;
}

const codeAfter = (prefix: string, id: string | null): string | null => (id?.startsWith(prefix) ? id.slice(prefix.length) : null);

/** The lot of a node of the river, or null. */
export const lotOf = (id: string | null): string | null => codeAfter(riverLotId(''), id);

/** The customer of a node of the river, or null. */
export const customerOf = (id: string | null): string | null => codeAfter(riverCustomerId(''), id);
