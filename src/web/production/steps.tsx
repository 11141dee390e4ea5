import { Link } from 'wouter';
import { amountOf, type Run } from './run.js';
import { ToleranceStrip } from './tolerance-strip.js';
import { nextWant, reached, reachedInWords, type Want, wantsOf } from './wants.js';

/** What the recipe or the bill of materials asks for, in its order, each with how much of it has gone in. */
export function Steps({ run }: { run: Run }) {
  const wants = wantsOf(run);
  const next = run.state === 'open' ? nextWant(run) : null;
  return (
    <ol className="steps">
      {wants.map((want) => (
        <StepLine key={`${want.step} ${want.item}`} want={want} isNext={want.step === next?.step && want.item === next.item} />
      ))}
    </ol>
  );
}

function StepLine({ want, isNext }: { want: Want; isNext: boolean }) {
  const { step, item, name, unit, chargedMicro, mixMinutes } = want;
  const how = reached(want);
  return (
    <li className={`step ${how}${isNext ? ' next' : ''}`} aria-current={isNext ? 'step' : undefined}>
      <span className="step-number" aria-hidden="true">
        {step ?? (how === 'in' ? '✓' : '·')}
      </span>
      <div className="step-what">
        <strong>{name}</strong>{' '}
        <Link className="code" href={`/set-up/items/${encodeURIComponent(item)}`}>
          {item}
        </Link>
        {mixMinutes > 0 ? <span className="quiet"> then mixes {mixMinutes}&nbsp;min</span> : null}
        {want.bySerial ? <span className="quiet"> by serial</span> : null}
      </div>
      <div className="step-strip">
        <ToleranceStrip want={want} />
      </div>
      <div className="step-said">
        <strong>{amountOf(chargedMicro, unit)}</strong>
        <span className={how === 'over' ? 'urgent' : 'quiet'}>{reachedInWords(want)}</span>
      </div>
    </li>
  );
}
