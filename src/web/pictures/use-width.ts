import { type RefObject, useLayoutEffect, useRef, useState } from 'react';

/** A box and how wide it is; 0 until it has been measured, which is before it is seen. */
export function useWidth<Box extends HTMLElement>(): [RefObject<Box | null>, number] {
  const box = useRef<Box>(null);
  const [width, setWidth] = useState(0);
  useLayoutEffect(() => {
    const element = box.current;
    if (element === null) return undefined;
    const measure = (): void => {
      const now = Math.floor(element.clientWidth);
      if (now > 0) setWidth(now); // what is hidden for a moment keeps the width it had
    };
    measure();
    const observer = new ResizeObserver(measure);
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return [box, width];
}
