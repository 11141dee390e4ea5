import { useEffect, useState } from 'react';

export const THEMES = ['as the device', 'light', 'dark'] as const;
export type Theme = (typeof THEMES)[number];
const KEY = 'kinledger theme';

function stored(): Theme {
  try {
    return THEMES.find((theme) => theme === localStorage.getItem(KEY)) ?? 'as the device';
  } catch {
    return 'as the device';
  }
}

/** Before the first paint, so that nobody in a dark hall is dazzled. */
export function applyTheme(theme: Theme = stored()): void {
  if (theme === 'as the device') delete document.documentElement.dataset['theme'];
  else document.documentElement.dataset['theme'] = theme;
}

export function useTheme(): [Theme, (theme: Theme) => void] {
  const [theme, setTheme] = useState<Theme>(stored);
  useEffect(() => applyTheme(theme), [theme]);
  return [
    theme,
    (next) => {
      setTheme(next);
      try {
        localStorage.setItem(KEY, next);
      } catch {
        // kept until the next reload
      }
    },
  ];
}
