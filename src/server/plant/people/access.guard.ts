import { type CanActivate, type ExecutionContext, ForbiddenException, Inject, Injectable, UnauthorizedException } from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { CommandGate } from '../../platform/database/gate.js';
import { Reader } from '../../platform/database/reader.js';
import { type Actor, MAY, OPEN_TO_ALL, type Role } from './access.js';
import { findKey } from './keys.store.js';
import { findSession, touchSession } from './sessions.store.js';
import { readToken, SESSION_COOKIE } from './session-cookie.js';

interface Asking {
  readonly method: string;
  readonly headers: Readonly<Record<string, string | undefined>>;
  readonly cookies?: Readonly<Record<string, string | undefined>>;
  actor?: Actor;
}

/**
 * Lets a request through to a route when the person may call it. A route that says nothing of who may call it is closed.
 * @see docs/rules/people.md P-1, P-2
 */
@Injectable()
export class AccessGuard implements CanActivate {
  constructor(
    private readonly reflector: Reflector,
    private readonly reader: Reader,
    private readonly gate: CommandGate,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  async canActivate(context: ExecutionContext): Promise<boolean> {
    if (this.reflector.get<boolean | undefined>(OPEN_TO_ALL, context.getHandler())) return true;
    const roles = this.reflector.get<readonly Role[] | undefined>(MAY, context.getHandler());
    if (!roles) throw new ForbiddenException('this address does not say who may call it, so nobody may');
    const request = context.switchToHttp().getRequest<Asking>();
    const actor = await this.#whoAsks(request);
    if (!actor.roles.some((role) => roles.includes(role))) {
      const detail = `${actor.person} acts as ${actor.roles.join(', ') || 'nobody'}; this is for ${roles.join(', ')}`;
      throw new Refusal('forbidden', [{ code: 'role-needed', detail, roles: [...roles] }]);
    }
    request.actor = actor;
    return true;
  }

  async #whoAsks(request: Asking): Promise<Actor> {
    const at = this.clock.now();
    const bearer = /^Bearer +(\S+)$/i.exec(request.headers['authorization'] ?? '')?.[1];
    if (bearer !== undefined) {
      const actor = await findKey(this.reader.manager, bearer);
      if (actor) return actor;
      throw new UnauthorizedException({
        reasons: [{ code: 'key-refused', detail: 'no such key, or it was revoked, or its person is blocked' }],
      });
    }
    const token = readToken(request);
    const session = token === undefined ? undefined : await findSession(this.reader.manager, token, at);
    if (!session) {
      const detail =
        token === undefined ? `sign in first: there is no ${SESSION_COOKIE} cookie and no key` : 'the session has ended: sign in again';
      throw new UnauthorizedException({ reasons: [{ code: 'not-signed-in', detail }] });
    }
    refuseForeignPage(request);
    if (session.stale) await this.gate.run((tx) => touchSession(tx, session.tokenHash, at));
    return session.actor;
  }
}

/** A page of another site must not act with the cookie. The cookie is SameSite=Strict; this also stops another port of the same host. */
function refuseForeignPage(request: Asking): void {
  const site = request.headers['sec-fetch-site'];
  if (request.method !== 'GET' && (site === 'cross-site' || site === 'same-site')) {
    throw new Refusal('forbidden', [{ code: 'foreign-page', detail: 'a page from elsewhere may not act for the person signed in' }]);
  }
}
