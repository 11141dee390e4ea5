import { type PointerEvent, type RefObject, useEffect, useRef } from 'react';
import { pieceAtX } from '../../../shared/ribbon-scale.js';
import { type SpanSet, unionSpans } from '../../../shared/spans.js';
import type { DrawingProps } from './ribbon-drawing.js';
import { atSpot, hullOf, reaching, type Spot, spotOf } from './ribbon-parts.js';

/** Nearer than this, a press that wandered is still a click. */
const CLICK_PX = 5;
const WHEEL_STEP = 1.25;

interface Press {
  readonly x: number;
  readonly piece: number;
  readonly spot: Spot | null;
  readonly before: SpanSet;
  dragged: boolean;
}

interface PointerHandlers {
  onPointerDown: (event: PointerEvent<SVGSVGElement>) => void;
  onPointerMove: (event: PointerEvent<SVGSVGElement>) => void;
  onPointerUp: (event: PointerEvent<SVGSVGElement>) => void;
  onPointerCancel: () => void;
  onPointerLeave: () => void;
}

/** What a pointer does: it points, a click selects a part, a drag selects pieces, and the wheel with Ctrl comes nearer. */
export function useRibbonPointer(svg: RefObject<SVGSVGElement | null>, props: DrawingProps, go: (spot: Spot) => void): PointerHandlers {
  const { ribbon, input, range, selection, onSelect, onPoint } = props;
  const press = useRef<Press | null>(null);
  const pointed = useRef<string>('');
  useWheel(svg, props);

  const xIn = (event: { clientX: number }): number => {
    const box = svg.current?.getBoundingClientRect();
    return box === undefined ? 0 : ((event.clientX - box.left) * ribbon.width) / box.width;
  };
  const pieceIn = (event: { clientX: number }): number => Math.max(range[0], Math.min(range[1], pieceAtX(ribbon.scale, xIn(event))));

  function click({ spot, piece, before }: Press, event: PointerEvent): void {
    const at = atSpot(input, ribbon, spot);
    if (at === null) return onSelect?.([]);
    const hull = hullOf(before);
    if (event.shiftKey && hull) return onSelect?.(reaching(hull, [piece, piece]));
    return onSelect?.(event.ctrlKey || event.metaKey ? unionSpans(before, [at.run]) : [at.run]);
  }
  return {
    onPointerDown(event) {
      const inRuler = xIn(event) >= (ribbon.scale.knots[0]?.x ?? 0);
      if (!onSelect || event.button !== 0 || !inRuler) return;
      const spot = spotOf(event.target);
      press.current = { x: xIn(event), piece: pieceIn(event), spot, before: selection, dragged: false };
      if (spot) go(spot);
      event.currentTarget.setPointerCapture(event.pointerId);
    },
    onPointerMove(event) {
      const start = press.current;
      if (start !== null) {
        start.dragged ||= Math.abs(xIn(event) - start.x) > CLICK_PX;
        const piece = pieceIn(event);
        if (start.dragged) onSelect?.(reaching([start.piece, start.piece], [piece, piece]));
        return;
      }
      const spot = spotOf(event.target);
      const name = spot === null ? '' : `${spot.row} ${spot.piece}`;
      if (name === pointed.current) return;
      pointed.current = name;
      if (spot) onPoint(spot);
    },
    onPointerUp(event) {
      const start = press.current;
      press.current = null;
      if (start && !start.dragged) click(start, event);
    },
    onPointerCancel() {
      const start = press.current;
      press.current = null;
      if (start?.dragged) onSelect?.(start.before); // the finger scrolls the page after all
    },
    onPointerLeave() {
      pointed.current = '';
    },
  };
}

/** The wheel with Ctrl, and two fingers drawn apart on a pad, which browsers tell as the same. */
function useWheel(svg: RefObject<SVGSVGElement | null>, props: DrawingProps): void {
  const latest = useRef(props);
  useEffect(() => {
    latest.current = props;
  });
  useEffect(() => {
    const element = svg.current;
    const zoom = (event: WheelEvent): void => {
      if (!event.ctrlKey || element === null) return;
      event.preventDefault();
      const { ribbon, onZoom } = latest.current;
      const box = element.getBoundingClientRect();
      const piece = pieceAtX(ribbon.scale, ((event.clientX - box.left) * ribbon.width) / box.width);
      onZoom(event.deltaY < 0 ? WHEEL_STEP : 1 / WHEEL_STEP, piece);
    };
    element?.addEventListener('wheel', zoom, { passive: false });
    return () => element?.removeEventListener('wheel', zoom);
  }, [svg]);
}
