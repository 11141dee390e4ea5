import {
  type FocusEvent,
  type KeyboardEvent,
  type MouseEvent,
  type PointerEvent,
  type RefObject,
  useEffect,
  useRef,
  useState,
} from 'react';
import type { River } from '../../../shared/trace-layout.js';
import { type RiverPaths, stepFrom } from './river-paths.js';

const nodeAt = (target: EventTarget): SVGGElement | null => (target instanceof Element ? target.closest<SVGGElement>('[data-node]') : null);

/** Scrolls so far that neither the edge of the window nor the line that tells of the node covers it. */
function bringIntoSight(element: SVGGElement): void {
  const box = element.getBoundingClientRect();
  const room = element.closest('.river-room');
  const top = (room?.parentElement?.querySelector('.river-told')?.getBoundingClientRect().bottom ?? 0) + 8;
  if (box.top < top) window.scrollBy(0, box.top - top);
  else if (box.bottom > window.innerHeight - 8) window.scrollBy(0, box.bottom - window.innerHeight + 8);
  if (room === null) return;
  const edges = room.getBoundingClientRect();
  if (box.left < edges.left) room.scrollLeft += box.left - edges.left - 12;
  else if (box.right > edges.right) room.scrollLeft += box.right - edges.right + 12;
}

/** Pointer and keyboard in a river: which node is pointed at, which has the focus, what the keys do. */
export function useRiverFocus({
  svg,
  river,
  paths,
  start,
  chosen,
  onMark,
  onChoose,
  unfold,
  foldAgain,
}: {
  svg: RefObject<SVGSVGElement | null>;
  river: River;
  paths: RiverPaths;
  /** Where Tab enters before anything had the focus. */
  start: string | null;
  chosen: string | null;
  onMark: ((id: string | null) => void) | undefined;
  onChoose: ((id: string | null) => void) | undefined;
  unfold: (id: string) => void;
  foldAgain: (id: string) => void;
}) {
  const [pointed, setPointed] = useState<string | null>(null);
  const [focused, setFocused] = useState<string | null>(null);
  const [byKeyboard, setByKeyboard] = useState(false);
  const [last, setLast] = useState<string | null>(null);
  const cameFrom = useRef<string | null>(null);
  /** Where the focus goes once the river is drawn anew: to a node, or to the first part of an opened fold. */
  const wanted = useRef<{ node: string } | { partOf: string } | null>(null);
  const elementOf = (id: string) => svg.current?.querySelector<SVGGElement>(`[data-node="${CSS.escape(id)}"]`);

  useEffect(() => {
    const goal = wanted.current;
    wanted.current = null;
    if (goal === null) return;
    const id = 'node' in goal ? goal.node : paths.columns.flat().find(({ within }) => within.at(-1) === goal.partOf)?.id;
    if (id !== undefined) elementOf(id)?.focus();
  }); // after every drawing: an opened fold is drawn anew

  const single = (id: string): boolean => paths.node.get(id)?.foldedCount === 1;
  const tell = (id: string | null): void => onMark?.(id !== null && single(id) ? id : null);

  function press(id: string): void {
    if (single(id)) return onChoose?.(id === chosen ? null : id);
    wanted.current = { partOf: id };
    unfold(id);
  }
  function close(fold: string): void {
    wanted.current = { node: fold };
    foldAgain(fold);
  }
  function move(id: string, key: string): boolean {
    const next = stepFrom(id, key, paths, cameFrom.current);
    if (next === null) return key.startsWith('Arrow');
    if (key === 'ArrowLeft' || key === 'ArrowRight') cameFrom.current = id;
    elementOf(next)?.focus();
    return true;
  }

  const handlers = {
    onPointerOver(event: PointerEvent) {
      const id = nodeAt(event.target)?.dataset['node'] ?? null;
      if (id === pointed) return;
      setPointed(id);
      tell(id ?? focused);
    },
    onPointerLeave() {
      setPointed(null);
      tell(focused);
    },
    onFocus(event: FocusEvent) {
      const element = nodeAt(event.target);
      const id = element?.dataset['node'] ?? null;
      if (element === null || id === null) return;
      const visible = element.matches(':focus-visible');
      setFocused(id);
      setLast(id);
      setByKeyboard(visible);
      if (visible) setPointed(null); // the keyboard has taken over from a pointer that lies still
      if (visible) bringIntoSight(element);
      tell(id);
    },
    onBlur() {
      setFocused(null);
      tell(null);
    },
    onClick(event: MouseEvent) {
      const id = nodeAt(event.target)?.dataset['node'];
      if (id !== undefined) press(id);
    },
    onKeyDown(event: KeyboardEvent) {
      const id = nodeAt(event.target)?.dataset['node'];
      if (id === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
      const within = paths.node.get(id)?.within.at(-1);
      if (event.key === 'Enter' || event.key === ' ') press(id);
      else if ((event.key === '-' || event.key === 'Backspace') && within !== undefined) close(within);
      else if (event.key === 'Escape' && chosen !== null) onChoose?.(null);
      else if (!move(id, event.key)) return;
      event.preventDefault();
    },
  };
  const known = (id: string | null): id is string => id !== null && paths.node.has(id);
  const affected = river.nodes.find((node) => node.affectedShare !== 0) ?? river.nodes[0];
  const tabStop = [last, start].find(known) ?? affected?.id ?? null;
  return {
    pointed: known(pointed) ? pointed : null,
    focused: known(focused) ? focused : null,
    byKeyboard,
    tabStop,
    handlers,
    foldAgain: close,
  };
}
