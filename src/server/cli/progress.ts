/** A line on a terminal that is written over, at most ten times a second; null ends it. Nothing where stderr is no terminal. */
export function progressLine(): (text: string | null) => void {
  if (!process.stderr.isTTY) return () => undefined;
  let last = 0;
  return (text) => {
    const now = performance.now();
    if (text !== null && now - last < 100) return;
    last = now;
    process.stderr.write(text === null ? '\r\u001b[K' : `\r\u001b[K${text}`);
  };
}
