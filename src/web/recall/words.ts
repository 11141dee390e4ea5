import { formatSpans } from '../../../shared/spans.js';

/** The plant's words for the choices of a recall, with the standard's meaning where it has one. */
export const TYPES = [
  { value: 'recall', says: 'recall: removed from the market' },
  { value: 'correction', says: 'correction: put right where it is' },
  { value: 'market-withdrawal', says: 'market withdrawal: minor or no breach of rules' },
  { value: 'stock-recovery', says: 'stock recovery: nothing left the plant’s control' },
] as const;

/** 21 CFR 7.3(m). */
export const CLASSES = [
  { value: 'I', says: 'I: serious harm or death reasonably probable' },
  { value: 'II', says: 'II: temporary or reversible harm, or serious harm remote' },
  { value: 'III', says: 'III: harm not likely' },
] as const;

/** 21 CFR 7.42(b)(1). */
export const DEPTHS = [
  { value: 'consumer', says: 'to the consumer or user' },
  { value: 'retail', says: 'to the retailer' },
  { value: 'wholesale', says: 'to the wholesaler' },
] as const;

/** 21 CFR 7.42(b)(3). */
export const LEVELS = [
  { value: 'A', says: 'A: all consignees' },
  { value: 'B', says: 'B: a number decided here' },
  { value: 'C', says: 'C: 10 %' },
  { value: 'D', says: 'D: 2 %' },
  { value: 'E', says: 'E: none' },
] as const;

export const CHANNELS = [
  { value: 'letter', says: 'letter' },
  { value: 'email', says: 'e-mail' },
  { value: 'telephone', says: 'telephone' },
  { value: 'visit', says: 'visit' },
] as const;

/** A time in seconds as people say it: `3 h 12 min 05 s`. */
export function writtenSeconds(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  const days = Math.floor(whole / 86_400);
  const hours = Math.floor((whole % 86_400) / 3600);
  const minutes = Math.floor((whole % 3600) / 60);
  const two = (part: number): string => `${part}`.padStart(2, '0');
  if (days > 0) return `${days} d ${hours} h`;
  return hours > 0 ? `${hours} h ${two(minutes)} min` : `${minutes} min ${two(whole % 60)} s`;
}

/** Piece numbers as they are typed, `5-17,40`; nothing of a lot that has none, of which the quantity says how much. */
export const spansText = (spans: number[][] | null): string =>
  spans === null ? '' : formatSpans(spans.map(([first = 0, last = 0]) => [first, last] as const));
