import { useEffect, useState } from 'react';
import { CODE_FONT, measureAnew, TEXT_FONT } from './fit-text.js';

/** Counts up when a font that pictures are set in has come, so that what was measured without it is measured anew. */
export function useFonts(): number {
  const [come, setCome] = useState(0);
  useEffect(() => {
    if ([CODE_FONT, TEXT_FONT].every((font) => document.fonts.check(font))) return undefined;
    let gone = false;
    const load = async (): Promise<void> => {
      await Promise.all([CODE_FONT, TEXT_FONT].map((font) => document.fonts.load(font)));
      if (gone) return;
      measureAnew();
      setCome((times) => times + 1);
    };
    void load();
    return () => {
      gone = true;
    };
  }, []);
  return come;
}
