import { createParamDecorator, type ExecutionContext, SetMetadata } from '@nestjs/common';
import { ROLES, type Role } from './people.facts.js';

export { ROLES, type Role } from './people.facts.js';

/** Who is asking. */
export interface Actor {
  /** Code of the person, as entries name them. */
  readonly person: string;
  readonly roles: readonly Role[];
}

export const MAY = 'may';
export const OPEN_TO_ALL = 'open-to-all';

/** Who may call a route. Every route states it, or states that it is open; a test walks every route with every role. */
export const May = (...roles: readonly Role[]): MethodDecorator => SetMetadata(MAY, roles);

/** A route that needs no sign-in. */
export const OpenToAll = (): MethodDecorator => SetMetadata(OPEN_TO_ALL, true);

/** Any person who is signed in may read. */
export const EVERYONE = ROLES;

/** The signed-in person, as the guard found them. */
export const CurrentActor = createParamDecorator((_: unknown, context: ExecutionContext): Actor => {
  const request = context.switchToHttp().getRequest<{ actor?: Actor }>();
  if (!request.actor) throw new Error('a route without @May or @OpenToAll asked who is calling');
  return request.actor;
});
