/** A code in an address. The router has undone what it can; what it must not undo, as a slash in a code, is undone here. */
export function codeOfAddress(parameter: string): string {
  try {
    return decodeURIComponent(parameter);
  } catch {
    return parameter; // a code with a percent sign of its own, undone already
  }
}
