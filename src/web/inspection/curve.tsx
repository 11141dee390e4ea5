import { percent } from '../pictures/oc-curve-layout.js';
import { Answered } from '../design/answered.js';
import { Facts } from '../design/page.js';
import { OcCurvePicture } from '../pictures/oc-curve.js';
import { writtenFigure } from '../pictures/plot-axis.js';
import { server, type View } from '../wire/client.js';
import type { CurveQuestion } from './plan-numbers.js';

type Curve = View<'OperatingCharacteristicView'>;

/** The operating characteristic of a plan, as the server reckons it: its numbers first, then the curve. */
export function CurveOf({ question, name }: { question: CurveQuestion; name: string }) {
  const query = server.useQuery('get', '/api/sampling/oc', { params: { query: question } }, { staleTime: Infinity });
  return (
    <Answered query={query} what="the curve">
      {(curve) => (
        <>
          <Facts facts={factsOf(curve)} />
          <OcCurvePicture curve={curve} name={name} />
          <p className="quiet">
            Reckoned as {curve.distribution}
            {curve.lotSize === null ? '' : ` for a lot of ${curve.lotSize}`}. Average outgoing quality limit: {curve.aoql.formula}.
          </p>
        </>
      )}
    </Answered>
  );
}

function factsOf({ producersRisk, qualityAt, aoql, largestAverageSample, unit }: Curve) {
  const of = unit === 'percent nonconforming' ? ' %' : ' per 100';
  const at = (level: number) => qualityAt.find(({ atLeast }) => atLeast === level)?.quality ?? null;
  const [even, consumers] = [at(0.5), at(0.1)];
  return [
    ...(producersRisk === null ? [] : [{ label: `Producer's risk at AQL ${producersRisk.aql}`, value: percent(producersRisk.risk) }]),
    ...(even === null ? [] : [{ label: 'Even chances at', value: `${writtenFigure(even, 3)}${of}` }]),
    ...(consumers === null ? [] : [{ label: '10 % still accepted at', value: `${writtenFigure(consumers, 3)}${of}` }]),
    { label: 'Goes on at worst, on average', value: `${writtenFigure(aoql.quality, 3)}${of}` },
    ...(largestAverageSample === null
      ? []
      : [{ label: 'Items taken at most, on average', value: writtenFigure(largestAverageSample.items, 4) }]),
  ];
}
