import { parseQuantity } from '../../../../shared/quantity.js';
import { parseSpans, type SpanSet } from '../../../../shared/spans.js';

/** A checked quantity of a command, in millionths; what was left out stays left out. */
export const givenQuantity = (text: string | undefined): number | undefined => (text === undefined ? undefined : parseQuantity(text));

/** Checked piece numbers of a command; what was left out stays left out. */
export const givenSpans = (text: string | undefined): SpanSet | undefined => (text === undefined ? undefined : parseSpans(text));
