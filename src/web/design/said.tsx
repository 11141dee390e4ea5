import type { ReactNode } from 'react';
import { Notice } from './page.js';

/** What was just done, said aloud too. Nothing is there while there is nothing to say. */
export function Said({ says }: { says: ReactNode }) {
  if (!says) return null;
  return (
    <div role="status">
      <Notice>
        <p>{says}</p>
      </Notice>
    </div>
  );
}
