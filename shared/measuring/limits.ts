/** Limits of a characteristic in millionths; a value on a limit is within it. */
export interface Limits {
  readonly lowerMicro?: number | undefined;
  readonly upperMicro?: number | undefined;
}

/** Which limit is broken and by how much, in millionths; null when none is. */
interface LimitsCheck {
  readonly within: boolean;
  readonly broken: { readonly limit: 'lower' | 'upper'; readonly limitMicro: number; readonly byMicro: number } | null;
}

/** Compares a result, already rounded by its characteristic's rule, with the limits. Both limits are inclusive. */
export function withinLimits(valueMicro: number, { lowerMicro, upperMicro }: Limits): LimitsCheck {
  if (lowerMicro !== undefined && valueMicro < lowerMicro) {
    return { within: false, broken: { limit: 'lower', limitMicro: lowerMicro, byMicro: lowerMicro - valueMicro } };
  }
  if (upperMicro !== undefined && valueMicro > upperMicro) {
    return { within: false, broken: { limit: 'upper', limitMicro: upperMicro, byMicro: valueMicro - upperMicro } };
  }
  return { within: true, broken: null };
}
