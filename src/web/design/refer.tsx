import { Link } from 'wouter';

/** Where a record of each kind has its page: the word by which answers and reasons name it, and the address. */
export const PLACE_OF = {
  lot: '/lots',
  heldLot: '/lots',
  delivery: '/receiving',
  inspection: '/inspection',
  run: '/production/runs',
  vessel: '/production/vessels',
  hold: '/lots/holds',
  report: '/nonconformance',
  shipment: '/dispatch',
  returned: '/dispatch/returns',
  recall: '/recall',
  item: '/set-up/items',
  party: '/set-up/parties',
  supplier: '/set-up/parties',
  customer: '/set-up/parties',
  line: '/set-up/lines',
  location: '/set-up/locations',
  instrument: '/inspection/instruments',
  recipe: '/set-up/recipes',
  bom: '/set-up/boms',
  person: '/set-up/people',
  entry: '/ledger',
} as const;

export type Kind = keyof typeof PLACE_OF;

/** The code of a record, leading to its page. */
export function Refer({ kind, code, children }: { kind: Kind; code: string; children?: React.ReactNode }) {
  return (
    <Link href={`${PLACE_OF[kind]}/${encodeURIComponent(code)}`} className="code">
      {children ?? code}
    </Link>
  );
}
