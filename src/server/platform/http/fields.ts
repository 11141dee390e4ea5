import { Transform } from 'class-transformer';
import { applyDecorators } from '@nestjs/common';
import { ValidateBy, type ValidationOptions } from 'class-validator';
import { codeFault, textFault } from '../../../../shared/plain-text.js';
import { parseQuantity } from '../../../../shared/quantity.js';
import { parseSpans } from '../../../../shared/spans.js';
import { dateFault, toInstant } from '../../../../shared/time.js';

/** Field checks of the trade for DTOs. Each says what is wrong with the value in a sentence. */
const fieldCheck = (name: string, fault: (value: unknown) => string | null, options?: ValidationOptions): PropertyDecorator =>
  ValidateBy(
    {
      name,
      validator: {
        validate: (value) => fault(value) === null,
        defaultMessage: (args) => `${args?.property}: ${fault(args?.value) ?? ''}`,
      },
    },
    options,
  );

const thrown = (run: () => unknown): string | null => {
  try {
    run();
    return null;
  } catch (error) {
    return (error as Error).message;
  }
};

const ofText = (check: (text: string) => string | null) => (value: unknown) =>
  typeof value === 'string' ? check(value) : 'must be text in quotes';

/** A code as typed or scanned: 1 to 64 characters, none of them a control character. Case and leading zeros count. */
export const IsCode = (options?: ValidationOptions): PropertyDecorator => fieldCheck('isCode', ofText(codeFault), options);

/** Free text up to `max` characters without control characters other than line breaks and tabs. */
export const IsPlainText = (max: number, options?: ValidationOptions): PropertyDecorator =>
  fieldCheck(
    'isPlainText',
    ofText((text) => textFault(text, max)),
    options,
  );

/** A decimal quantity in quotes, as "12.5", with at most six decimals. */
export const IsQuantity = (options?: ValidationOptions): PropertyDecorator =>
  fieldCheck(
    'isQuantity',
    ofText((text) => thrown(() => parseQuantity(text))),
    options,
  );

/** Piece numbers as "5-17,40". */
export const IsPieces = (): PropertyDecorator =>
  fieldCheck(
    'isPieces',
    ofText((text) => thrown(() => parseSpans(text))),
  );

export const IsDate = (): PropertyDecorator => fieldCheck('isDate', ofText(dateFault));

/** A number in an address arrives as a number. What is none, or too long to be exact, is left to the check that follows. */
export const AsNumber = (): PropertyDecorator =>
  Transform(({ value }: { value: unknown }) =>
    typeof value === 'string' && /^\d{1,15}(\.\d{1,15})?$/.test(value) ? Number(value) : value,
  );

/** A UTC or offset ISO 8601 instant; arrives as UTC with milliseconds. */
export const IsInstant = (): PropertyDecorator =>
  applyDecorators(
    Transform(({ value }: { value: unknown }) => normalised(value)),
    fieldCheck(
      'isInstant',
      ofText((text) => thrown(() => toInstant(text))),
    ),
  );

function normalised(value: unknown): unknown {
  if (typeof value !== 'string') return value;
  try {
    return toInstant(value);
  } catch {
    return value; // the check that follows says what is wrong with it
  }
}
