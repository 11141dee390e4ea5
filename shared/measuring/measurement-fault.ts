/** Readings that give no result; `message` says why in plain words, `at` where (a JSON pointer into what was asked). */
export class MeasurementFault extends Error {
  override readonly name = 'MeasurementFault';

  constructor(
    message: string,
    readonly at: string,
  ) {
    super(message);
  }
}
