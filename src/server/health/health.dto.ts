export class HealthView {
  alive: boolean;
}

export class ReadyView {
  ready: boolean;
  /** Number of the last entry of the ledger. */
  seq: number;
}
