import { useSyncExternalStore } from 'react';

const COARSE = '(pointer: coarse)';

function listen(tell: () => void): () => void {
  const query = matchMedia(COARSE);
  query.addEventListener('change', tell);
  return () => query.removeEventListener('change', tell);
}

/** Whether people point with a finger here, for which things are drawn farther apart. */
export const useCoarsePointer = (): boolean => useSyncExternalStore(listen, () => matchMedia(COARSE).matches);
