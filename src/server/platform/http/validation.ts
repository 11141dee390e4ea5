import { BadRequestException, ValidationPipe } from '@nestjs/common';
import type { ValidationError } from 'class-validator';

/** Where a value is no list or number at all, what its length or size should be is no news. */
const KINDS = ['isArray', 'isInt', 'isString', 'isBoolean'];

function ownFaults(constraints: Readonly<Record<string, string>>): string[] {
  const kind = KINDS.find((name) => name in constraints);
  return kind === undefined ? Object.values(constraints) : [constraints[kind]!];
}

/** Every fault of a body with a JSON pointer to it. */
export function shapeFaults(errors: readonly ValidationError[], path = ''): { code: string; detail: string; pointer: string }[] {
  return errors.flatMap((error) => {
    const pointer = `${path}/${error.property}`;
    const own = ownFaults(error.constraints ?? {}).map((detail) => ({ code: 'shape', detail, pointer }));
    return [...own, ...shapeFaults(error.children ?? [], pointer)];
  });
}

/** Says "this is not a delivery"; whether it may be booked is for decide. */
export const validation = (): ValidationPipe =>
  new ValidationPipe({
    whitelist: true,
    forbidNonWhitelisted: true,
    transform: true,
    transformOptions: { exposeDefaultValues: true },
    exceptionFactory: (errors) => new BadRequestException({ reasons: shapeFaults(errors) }),
  });
