import { Command, InvalidArgumentError, Option } from 'commander';
import { optionsOf, plantOf, withPlant } from './context.js';
import { answer } from './say.js';
import { traceInWords } from './trace-in-words.js';
import { parseSpans } from '../../../shared/spans.js';
import { toInstant } from '../../../shared/time.js';

interface Own {
  lot?: string;
  pieces?: string;
  serial?: string;
  item?: string;
  shipment?: string;
  supplierLot?: string;
  supplier?: string;
  run?: string;
  vessel?: string;
  at?: string;
  line?: string;
  instrument?: string;
  from?: string;
  to?: string;
  direction: 'forward' | 'backward';
  asKnownAt?: number;
  scope: 'narrow' | 'both';
  whereabouts?: boolean;
  shareCutOff?: number;
}

const ORIGINS = ['lot', 'serial', 'shipment', 'supplierLot', 'run', 'vessel', 'line', 'instrument'] as const;

const whole = (text: string): number => {
  if (!/^\d+$/.test(text)) throw new InvalidArgumentError('a ledger entry is a whole number');
  return Number(text);
};

const fraction = (text: string): number => {
  const value = Number(text);
  if (!(value >= 0 && value <= 1)) throw new InvalidArgumentError('a share is a number from 0 to 1');
  return value;
};

const understood =
  (check: (text: string) => unknown) =>
  (text: string): string => {
    try {
      check(text);
      return text;
    } catch (error) {
      throw new InvalidArgumentError((error as Error).message);
    }
  };

const instant = (text: string): string => {
  understood(toInstant)(text);
  return toInstant(text);
};

export const traceCommand = (): Command =>
  new Command('trace')
    .description('follow material forward to everything that holds it, or backward to everything it came from')
    .option('--lot <code>', 'lot to start from')
    .option('--pieces <spans>', 'piece numbers of the lot, as 5-17,40', understood(parseSpans))
    .option('--serial <serial>', 'unit to start from')
    .option('--item <code>', 'item of the serial, where several items have the same one')
    .option('--shipment <code>', 'everything in a shipment')
    .option('--supplier-lot <code>', "every lot received under a supplier's lot code")
    .option('--supplier <code>', "supplier of the supplier's lot")
    .option('--run <code>', 'everything a run yielded')
    .option('--vessel <code>', 'everything made in a vessel between two cleanings')
    .option('--at <instant>', 'an instant between those cleanings; left out: since the last one', instant)
    .option('--line <code>', 'everything made on a line, with --from and --to')
    .option('--instrument <code>', 'every lot an instrument judged, with --from and --to; left out: since it was last known good')
    .option('--from <instant>', 'start of the time on the line or with the instrument', instant)
    .option('--to <instant>', 'end of that time', instant)
    .addOption(new Option('--direction <direction>').choices(['forward', 'backward']).default('forward'))
    .option('--as-known-at <seq>', 'ledger entry as of which to answer', whole)
    .addOption(new Option('--scope <scope>', 'both adds the scope of whole lots').choices(['narrow', 'both']).default('narrow'))
    .option('--whereabouts', 'add where every affected part is')
    .option('--share-cut-off <share>', 'follow blending only where the share is at least this, and list what that leaves out', fraction)
    .action(async (_own: Own, command: Command) => {
      const { json, data, ...request } = optionsOf<Own>(command);
      if (ORIGINS.every((origin) => request[origin] === undefined))
        command.error('error: say what to trace: --lot, --serial, --shipment, --supplier-lot, --run, --vessel, --line or --instrument');
      if (request.pieces !== undefined && request.lot === undefined) command.error('error: --pieces needs --lot');
      if (request.line !== undefined && (request.from === undefined || request.to === undefined))
        command.error('error: --line needs --from and --to');
      const plantThere = plantOf({ data });
      const { TraceService } = await import('../trace/trace.service.js');
      const traced = await withPlant(plantThere, (plant) => plant.get(TraceService).trace(request));
      answer(json ? JSON.stringify(traced, null, 2) : traceInWords(traced));
    });
