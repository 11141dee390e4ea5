import { formatQuantity, parseQuantity } from '../../../../shared/quantity.js';
import { givenQuantity } from '../../platform/http/given.js';
import type { BomDto, BomView, RecipeDto, RecipeView } from './composition.dto.js';
import type { DefectDto, DefectView, InspectionPlanDto, InspectionPlanView } from './inspection-plan.dto.js';
import { readInspectionPlan, showInspectionPlan } from './inspection-plan.wire.js';
import type { InstrumentDto, InstrumentView } from './instrument.dto.js';
import type {
  ItemDto,
  ItemView,
  LineDto,
  LineView,
  LocationDto,
  LocationView,
  PartyDto,
  PartyView,
  VesselDto,
  VesselView,
} from './catalogue.dto.js';
import type { CatalogueKind, CatalogueKinds, Item, Revised } from './catalogue.facts.js';

/** What arrives and leaves for each kind: quantities are decimal text outside and whole millionths inside. */
export interface WireKinds {
  item: { dto: ItemDto; view: ItemView };
  party: { dto: PartyDto; view: PartyView };
  vessel: { dto: VesselDto; view: VesselView };
  line: { dto: LineDto; view: LineView };
  location: { dto: LocationDto; view: LocationView };
  recipe: { dto: RecipeDto; view: RecipeView };
  bom: { dto: BomDto; view: BomView };
  instrument: { dto: InstrumentDto; view: InstrumentView };
  'inspection-plan': { dto: InspectionPlanDto; view: InspectionPlanView };
  defect: { dto: DefectDto; view: DefectView };
}

interface Wire<K extends CatalogueKind> {
  /** `item`: the one an inspection plan is for. */
  readonly read: (dto: WireKinds[K]['dto'], item?: Item) => CatalogueKinds[K];
  readonly show: (record: Revised<CatalogueKinds[K]>) => WireKinds[K]['view'];
}

const shown = (quantity: number | undefined): string | null => (quantity === undefined ? null : formatQuantity(quantity));

/** Yields that need no explanation where a recipe says nothing, in hundredths of a percent. */
const USUAL_YIELD = [9500, 10_500] as const;

export const WIRE: { readonly [K in CatalogueKind]: Wire<K> } = {
  item: {
    read: (dto) => ({
      code: dto.code,
      name: dto.name,
      class: dto.class,
      unit: dto.unit,
      tracking: dto.tracking,
      gtin: dto.gtin,
      densityMicro: givenQuantity(dto.density),
      shelfLifeDays: dto.shelfLifeDays,
      contentMicro: givenQuantity(dto.content),
      serialPattern: dto.serialPattern,
      hazard: dto.hazard,
      storage: dto.storage,
    }),
    show: (item) => ({
      code: item.code,
      revision: item.revision,
      name: item.name,
      class: item.class,
      unit: item.unit,
      tracking: item.tracking,
      gtin: item.gtin ?? null,
      density: shown(item.densityMicro),
      shelfLifeDays: item.shelfLifeDays ?? null,
      content: shown(item.contentMicro),
      serialPattern: item.serialPattern ?? null,
      hazard: item.hazard ?? null,
      storage: item.storage ?? null,
    }),
  },
  party: {
    read: ({ code, name, role, gln, contact }) => ({ code, name, role, gln, contact }),
    show: ({ code, revision, name, role, gln, contact }) => ({ code, revision, name, role, gln: gln ?? null, contact: contact ?? null }),
  },
  vessel: {
    read: ({ code, name, capacity }) => ({ code, name, capacityMicro: givenQuantity(capacity) }),
    show: ({ code, revision, name, capacityMicro }) => ({ code, revision, name, capacity: shown(capacityMicro) }),
  },
  line: {
    read: ({ code, name }) => ({ code, name }),
    show: ({ code, revision, name }) => ({ code, revision, name }),
  },
  location: {
    read: ({ code, name, use }) => ({ code, name, use }),
    show: ({ code, revision, name, use }) => ({ code, revision, name, use }),
  },
  recipe: {
    read: (dto) => ({
      code: dto.code,
      name: dto.name,
      item: dto.item,
      batchMicro: parseQuantity(dto.batch),
      steps: dto.steps.map(({ item, target, toleranceBp, mixMinutes }) => ({
        item,
        targetMicro: parseQuantity(target),
        toleranceBp,
        mixMinutes,
      })),
      yieldBp: [dto.yieldLowBp ?? USUAL_YIELD[0], dto.yieldHighBp ?? USUAL_YIELD[1]],
    }),
    show: (recipe) => ({
      code: recipe.code,
      revision: recipe.revision,
      name: recipe.name,
      item: recipe.item,
      batch: formatQuantity(recipe.batchMicro),
      steps: recipe.steps.map(({ targetMicro, ...step }) => ({ ...step, target: formatQuantity(targetMicro) })),
      yieldLowBp: recipe.yieldBp[0],
      yieldHighBp: recipe.yieldBp[1],
    }),
  },
  bom: {
    read: (dto) => ({
      code: dto.code,
      name: dto.name,
      item: dto.item,
      lines: dto.lines.map(({ item, perPiece, trackedBy }) => ({ item, perPieceMicro: parseQuantity(perPiece), trackedBy })),
    }),
    show: (bom) => ({
      code: bom.code,
      revision: bom.revision,
      name: bom.name,
      item: bom.item,
      lines: bom.lines.map(({ perPieceMicro, ...line }) => ({ ...line, perPiece: formatQuantity(perPieceMicro) })),
    }),
  },
  'inspection-plan': { read: readInspectionPlan, show: showInspectionPlan },
  defect: {
    read: ({ code, name, severity, note }) => ({ code, name, severity, note }),
    show: ({ code, revision, name, severity, note }) => ({ code, revision, name, severity, note: note ?? null }),
  },
  instrument: {
    read: ({ code, name, kind, serial, resolution, intervalDays, use }) => ({ code, name, kind, serial, resolution, intervalDays, use }),
    show: ({ code, revision, name, kind, serial, resolution, intervalDays, use }) => ({
      code,
      revision,
      name,
      kind,
      serial: serial ?? null,
      resolution: resolution ?? null,
      intervalDays,
      use,
    }),
  },
};
