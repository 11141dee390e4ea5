/** What the answer about a lot (`GET /api/lots/:lot`) gives a picture of it. Pieces are written `5-17,40`; null is all of a bulk lot. */
export interface LotPicture {
  readonly lot: string;
  /** N of a numbered lot, null for a bulk one. */
  readonly pieces: number | null;
  readonly places: readonly {
    readonly fate: string;
    readonly at: string;
    readonly pieces: string | null;
    /** Who has it, where it was dispatched. */
    readonly customer: string | null;
  }[];
  readonly stamps: readonly { readonly stamp: string; readonly pieces: string | null }[];
  readonly holds: readonly { readonly hold: string; readonly pieces: string | null }[];
  readonly reports: readonly { readonly report: string; readonly open: boolean; readonly pieces: string | null }[];
  readonly madeFrom: readonly LotPictureLink[];
  readonly wentInto: readonly LotPictureLink[];
}

interface LotPictureLink {
  readonly lot: string;
  readonly item: string;
  readonly itemName: string;
  readonly fromPieces: string | null;
  readonly toPieces: string | null;
  readonly map: 'all' | 'each';
}
