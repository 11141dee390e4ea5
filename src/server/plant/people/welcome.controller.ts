import { Controller, Get, Inject, Req } from '@nestjs/common';
import type { FastifyRequest } from 'fastify';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import { OpenToAll } from './access.js';
import { administrators } from './people.query.js';
import { PeopleService } from './people.service.js';
import { readToken } from './session-cookie.js';
import { findSession } from './sessions.store.js';
import { DEMO_PASSWORD } from './demo-password.js';
import type { MeView } from './sign-in.dto.js';
import { SignInService } from './sign-in.service.js';
import { WelcomeView } from './welcome.dto.js';

@Controller('welcome')
export class WelcomeController {
  constructor(
    private readonly reader: Reader,
    private readonly signIns: SignInService,
    private readonly people: PeopleService,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /** Whose record this is, whether it is a demonstration, and who is signed in here, if anybody: what a page needs before the sign-in. */
  @Get()
  @OpenToAll()
  async welcome(@Req() request: FastifyRequest): Promise<WelcomeView> {
    const { plantName, demo, currency } = this.config;
    const people = demo ? await this.people.people() : [];
    return {
      plant: plantName,
      currency,
      demo: demo ? { password: DEMO_PASSWORD, people: people.filter(({ signsIn, blocked }) => signsIn && !blocked) } : null,
      hasPeople: (await administrators(this.reader.manager)).length > 0,
      me: await this.#me(request),
    };
  }

  async #me(request: FastifyRequest): Promise<MeView | null> {
    const token = readToken(request);
    const session = token === undefined ? undefined : await findSession(this.reader.manager, token, this.clock.now());
    return session ? this.signIns.me(session.actor) : null;
  }
}
