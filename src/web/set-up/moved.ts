/** A list with the member at `at` one place up (-1) or down (1); the same list where there is no such place. */
export function moved<Member>(list: readonly Member[], at: number, by: -1 | 1): readonly Member[] {
  const to = at + by;
  const member = list[at];
  if (member === undefined || to < 0 || to >= list.length) return list;
  return list.toSpliced(at, 1).toSpliced(to, 0, member);
}
