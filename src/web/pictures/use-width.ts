import { type RefObject, useEffect, useRef, useState } from 'react';

/** A box and how wide it is; 0 until it has been measured. */
export function useWidth<Box extends HTMLElement>(): [RefObject<Box | null>, number] {
  const box = useRef<Box>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = box.current;
    if (element === null) return undefined;
    const measure = (): void => setWidth(Math.floor(element.clientWidth));
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [box, width];
}
