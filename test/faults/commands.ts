import { SESSION_COOKIE } from '../../src/server/plant/people/session-cookie.js';
import { makeLots } from '../made-lots.js';
import type { Answer, Plant } from '../harness.js';
import { pdf, sendFile } from '../send-file.js';
import { CALIBRATING } from './calibrating-story.js';
import { DISPOSING } from './disposing-story.js';
import { INSPECTING } from './inspecting-story.js';
import { LEARNING } from './learning-story.js';
import { MAKING, MATERIALS } from './making-story.js';
import { PLANNING } from './planning-story.js';
import { RECALLING } from './recalling-story.js';
import { REPORTING } from './reporting-story.js';
import { part, signed, type Step, type Told } from './step.js';

/** Before the story: finished goods that no run has to make. */
export const beforeTheStory = (plant: Plant): Promise<void> =>
  makeLots(plant, [
    { lot: 'F-1', item: 'WAX-250', pieces: 100 },
    { lot: 'F-2', item: 'WAX-250', pieces: 50, status: 'quarantine' },
    { lot: 'B-1', item: 'MIX-WAX', quantityMicro: 100_000_000, unit: 'kg', at: 'FG-1' },
    ...MATERIALS,
  ]);

export const STORY: readonly Step[] = [
  // catalogue
  {
    route: 'POST /api/items',
    by: 'quality',
    body: () => ({ code: 'GREASE', name: 'Grease', class: 'raw-material', unit: 'kg', tracking: 'bulk' }),
  },
  {
    route: 'POST /api/items',
    what: 'a revision',
    by: 'quality',
    body: () => ({
      code: 'GREASE',
      name: 'Grease, white',
      class: 'raw-material',
      unit: 'kg',
      tracking: 'bulk',
      revision: 1,
      reason: 'colour',
    }),
  },
  { route: 'POST /api/parties', by: 'quality', body: () => ({ code: 'C-003', name: 'Pannier and Pump', role: 'customer' }) },
  { route: 'POST /api/vessels', by: 'quality', body: () => ({ code: 'V-3', name: 'Kettle 3', capacity: '250' }) },
  { route: 'POST /api/lines', by: 'quality', body: () => ({ code: 'FILL-2', name: 'Filling line 2' }) },
  { route: 'POST /api/locations', by: 'quality', body: () => ({ code: 'RACK-2', name: 'Rack 2', use: 'stock' }) },
  {
    route: 'POST /api/recipes',
    by: 'quality',
    body: () => ({
      code: 'RCP-2',
      name: 'Chain wax, thin',
      item: 'MIX-WAX',
      batch: '100',
      steps: [{ item: 'WAX-BASE', target: '100', toleranceBp: 200, mixMinutes: 5 }],
    }),
  },
  {
    route: 'POST /api/boms',
    by: 'quality',
    body: () => ({
      code: 'BOM-FOOT',
      name: 'Foot from bar',
      item: 'FOOT',
      lines: [{ item: 'BAR-6061', perPiece: '0.1', trackedBy: 'lot' }],
    }),
  },

  ...PLANNING,

  // receiving and quality decisions
  {
    route: 'POST /api/deliveries',
    what: 'one that will be undone',
    by: 'clerk',
    body: () => ({
      supplier: 'S-WAX',
      documentType: 'delivery note',
      document: 'DN-WRONG',
      location: 'DOCK',
      condition: 'sound',
      lines: [{ item: 'GAUGE', quantity: '1', serials: ['G-9'] }],
    }),
    keep: (answer: { delivery: string }, told) => void (told['misbooked'] = answer.delivery),
  },
  { route: 'POST /api/deliveries/:delivery/reversal', by: 'clerk', params: (told) => [told['misbooked']!], body: () => part({}) },
  {
    route: 'POST /api/deliveries',
    by: 'clerk',
    body: () => ({
      supplier: 'S-WAX',
      documentType: 'delivery note',
      document: 'DN-STORY',
      location: 'DOCK',
      condition: 'sound',
      lines: [
        { item: 'WAX-BASE', quantity: '400.5', supplierLot: 'LW-1', containers: 4 },
        { item: 'GAUGE', quantity: '3', serials: ['G-1', 'G-2', 'G-3'] },
      ],
    }),
    keep: (answer: { lines: { lot: string }[] }, told) => {
      told['wax'] = answer.lines[0]!.lot;
      told['gauges'] = answer.lines[1]!.lot;
    },
  },
  {
    route: 'POST /api/files',
    by: 'inspector',
    send: (plant) => sendFile(plant, 'certificate LW-1.pdf', pdf('certificate of LW-1')),
    keep: (answer: { sha256: string }, told) => void (told['file'] = answer.sha256),
  },
  {
    route: 'POST /api/lots/:lot/files',
    by: 'clerk',
    params: (told) => [told['wax']!],
    body: (told) => ({ file: told['file'], what: 'certificate', note: 'with the delivery' }),
    keep: (answer: { attachment: number }, told) => void (told['attachment'] = String(answer.attachment)),
  },
  {
    route: 'POST /api/lots/:lot/files/:attachment/detachment',
    by: 'quality',
    params: (told) => [told['wax']!, told['attachment']!],
    body: () => part({}),
  },
  { route: 'POST /api/lots/:lot/release', by: 'quality', params: (told) => [told['wax']!], body: () => signed() },
  { route: 'POST /api/lots/:lot/non-acceptance', by: 'quality', params: (told) => [told['gauges']!], body: () => signed({ pieces: '3' }) },
  { route: 'POST /api/lots/:lot/reconsideration', by: 'quality', params: (told) => [told['gauges']!], body: () => signed({ pieces: '3' }) },

  ...CALIBRATING,
  ...INSPECTING,

  // holds
  {
    route: 'POST /api/holds',
    by: 'quality',
    body: () => signed({ parts: [{ lot: 'F-1', pieces: '90-100' }], reaches: true }),
    keep: (answer: { hold: string }, told) => void (told['hold'] = answer.hold),
  },
  { route: 'POST /api/holds/:hold/lift', by: 'quality', params: (told) => [told['hold']!], body: () => signed() },
  {
    route: 'POST /api/urgent-releases',
    by: 'quality',
    body: () => signed({ lot: 'F-2', pieces: '1-10', setsAside: ['quarantine'] }),
    keep: (answer: { urgentRelease: string }, told) => void (told['urgent'] = answer.urgentRelease),
  },
  { route: 'POST /api/urgent-releases/:urgentRelease/close', by: 'quality', params: (told) => [told['urgent']!], body: () => signed() },

  // stock
  {
    route: 'POST /api/stock/moves',
    by: 'clerk',
    body: ({ wax }) => part({ lot: wax, quantity: '40.5', from: 'DOCK', to: 'RACK-1' }),
    keep: (answer: { document: string }, told) => void (told['move'] = answer.document),
  },
  { route: 'POST /api/stock/corrections', by: 'quality', body: ({ move }) => part({ corrects: move }) },
  { route: 'POST /api/stock/counts', by: 'clerk', body: () => part({ lot: 'F-1', location: 'FG-1', pieces: '1-99' }) },
  { route: 'POST /api/stock/retains', by: 'quality', body: ({ wax }) => part({ lot: wax, quantity: '0.5', at: 'RETAIN' }) },
  {
    route: 'POST /api/stock/retains/taken-back',
    by: 'quality',
    body: ({ wax }) => part({ lot: wax, quantity: '0.2', at: 'RETAIN', to: 'RACK-1' }),
  },
  { route: 'POST /api/stock/scrap', by: 'quality', body: () => part({ lot: 'F-1', pieces: '60-61', evidence: 'skip 14' }) },
  { route: 'POST /api/stock/tests', by: 'quality', body: () => part({ lot: 'F-1', pieces: '62' }) },
  {
    route: 'POST /api/stock/supplier-returns',
    by: 'quality',
    body: ({ wax }) => part({ lot: wax, quantity: '5', supplierDocument: 'RMA 8' }),
  },

  ...MAKING,

  // dispatch, returns, recall
  {
    route: 'POST /api/shipments',
    by: 'dispatcher',
    body: () => ({
      customer: 'C-001',
      documentType: 'dispatch note',
      document: 'N-1',
      location: 'FG-1',
      lines: [
        { lot: 'F-1', pieces: '1-20' },
        { lot: 'B-1', quantity: '2.5' },
      ],
    }),
    keep: (answer: { shipment: string }, told) => void (told['shipment'] = answer.shipment),
  },
  {
    route: 'POST /api/shipments',
    what: 'one that will be undone',
    by: 'dispatcher',
    body: () => ({
      customer: 'C-002',
      documentType: 'dispatch note',
      document: 'N-2',
      location: 'FG-1',
      lines: [{ lot: 'F-1', pieces: '21-25' }],
    }),
    keep: (answer: { shipment: string }, told) => void (told['wrong'] = answer.shipment),
  },
  { route: 'POST /api/shipments/:shipment/reversal', by: 'dispatcher', params: (told) => [told['wrong']!], body: () => part({}) },
  {
    route: 'POST /api/returns',
    by: 'clerk',
    body: ({ shipment }) => ({
      customer: 'C-001',
      documentType: 'return note',
      document: 'R-1',
      location: 'QUAR',
      condition: 'dented',
      lines: [
        { lot: 'F-1', pieces: '3-5' },
        { lot: 'B-1', quantity: '1', shipment },
      ],
    }),
    keep: (answer: { returned: string }, told) => void (told['returned'] = answer.returned),
  },
  { route: 'POST /api/returns/:returned/reversal', by: 'clerk', params: (told) => [told['returned']!], body: () => part({}) },
  {
    route: 'POST /api/recalls',
    by: 'recall-lead',
    body: () => ({ title: 'A drill', reason: 'practice', type: 'recall', drill: true, scope: 'narrow', origin: [{ lot: 'B-1' }] }),
    keep: (answer: { recall: string }, told) => void (told['recall'] = answer.recall),
  },
  {
    route: 'POST /api/recalls/:recall/scopes',
    by: 'recall-lead',
    params: (told) => [told['recall']!],
    body: () => ({ reason: 'to be safe', scope: 'conservative', origin: [{ lot: 'B-1' }, { lot: 'F-1', pieces: '1-10' }] }),
  },

  ...REPORTING,
  ...DISPOSING,
  ...RECALLING,
  ...LEARNING,

  // people
  {
    route: 'POST /api/people',
    by: 'administrator',
    body: () => ({ person: 'wren', displayName: 'Wren', roles: ['clerk'], password: 'a first password of hers' }),
  },
  {
    route: 'POST /api/people/:person/roles',
    by: 'administrator',
    params: () => ['wren'],
    body: () => part({ roles: ['clerk', 'operator'] }),
  },
  { route: 'POST /api/people/:person/block', by: 'administrator', params: () => ['wren'], body: () => part({}) },
  { route: 'POST /api/people/:person/unblock', by: 'administrator', params: () => ['wren'], body: () => part({}) },
  {
    route: 'POST /api/people/:person/password',
    by: 'administrator',
    params: () => ['wren'],
    body: () => ({ password: 'another password of hers' }),
  },
  {
    route: 'POST /api/people/:person/name',
    by: 'administrator',
    params: () => ['wren'],
    body: () => ({ displayName: 'Wren the younger' }),
  },
  {
    route: 'POST /api/keys',
    by: 'administrator',
    body: () => ({ person: 'wren', label: 'scanner', role: 'clerk' }),
    keep: (answer: { id?: string; key?: string }, told) => void (told['key'] = (answer.id ?? answer.key)!),
  },
  { route: 'POST /api/keys/:key/revoke', by: 'administrator', params: (told) => [told['key']!], body: () => part({}) },

  { route: 'POST /api/imports', by: 'administrator', send: (plant) => sendImport(plant) },
];

/** Routes that write nothing into the record: who is signed in, and checks. */
export const NO_COMMANDS: ReadonlySet<string> = new Set([
  'POST /api/ledger/checkpoint/checks',
  'POST /api/ledger/verifications',
  'POST /api/me/password',
  'POST /api/set-up',
  'POST /api/sign-in',
  'POST /api/sign-out',
  'POST /api/trace/suspects',
]);

const BOUNDARY = 'x-fernhollow-x';

const IMPORT: Readonly<Record<string, readonly string[]>> = {
  'parties.csv': ['code,name,role,gln,contact', 'C-009,Old Customer,customer,,'],
  'items.csv': ['code,name,class,unit,gtin,density_kg_per_l,shelf_life_days', 'OLD-WAX,Old wax,mixture,kg,,,'],
  'lots.csv': [
    'lot,item,quantity,pieces,origin,at,supplier,supplier_lot,expires_on,status',
    'OLD-B,OLD-WAX,100,,made,2025-09-02T12:00:00Z,,,,released',
    'OLD-F,WAX-250,200,200,made,2025-09-03T12:00:00Z,,,,released',
  ],
  'links.csv': [
    'run,kind,at,from_lot,from_first,from_last,to_lot,to_first,to_last,quantity,map',
    'OLD-1,filling,2025-09-03T08:00:00Z,OLD-B,,,OLD-F,1,200,50,all',
  ],
  'shipments.csv': ['shipment,customer,at,lot,first,last,quantity', 'OLD-S,C-009,2025-09-15T06:30:00Z,OLD-F,1,96,96'],
};

async function sendImport(plant: Plant): Promise<Answer> {
  const parts = Object.entries(IMPORT).map(([name, lines]) => {
    const head = `Content-Disposition: form-data; name="${name}"; filename="${name}"\r\nContent-Type: text/csv`;
    return `--${BOUNDARY}\r\n${head}\r\n\r\n${lines.join('\n')}\n\r\n`;
  });
  const response = await plant.app.inject({
    method: 'POST',
    url: '/api/imports',
    headers: { 'content-type': `multipart/form-data; boundary=${BOUNDARY}` },
    cookies: { [SESSION_COOKIE]: plant.sessionOf('administrator-1') },
    payload: `${parts.join('')}--${BOUNDARY}--\r\n`,
  });
  return { status: response.statusCode, body: response.json(), headers: response.headers };
}

/** Sends a step as it stands in the story. */
export function send(plant: Plant, step: Step, told: Told): Promise<Answer> {
  if (step.send) return step.send(plant);
  const params = [...(step.params?.(told) ?? [])];
  const path = step.route.slice('POST '.length).replaceAll(/:\w+/g, () => encodeURIComponent(params.shift() ?? ''));
  return plant.as(step.by).post<unknown>(path, step.body?.(told) ?? {});
}
