/** The blanks that figures on our own pages are grouped with. */
const GROUPING = /[\u00a0\u202f]/gu;

/**
 * Piece numbers as people type or paste them, as the record reads them: `5 - 17, 40` and `5–17 40` are `5-17,40`. What stands between two
 * numbers parts them: that `1-370 400` became one number, or the end of it was dropped, would be pieces that nobody looks for.
 */
export const pieceText = (typed: string): string =>
  typed
    .trim()
    .replaceAll(GROUPING, '')
    .replaceAll(/\s*[-–]\s*/gu, '-')
    .replaceAll(/\s*[,;]\s*|\s+/gu, ',');
