import type { NestFastifyApplication } from '@nestjs/platform-fastify';
import { createApp } from '../app.js';
import { SESSION_COOKIE } from '../plant/people/session-cookie.js';
import { SetClock } from '../platform/clock.js';
import { DEMO_PASSWORD } from '../plant/people/demo-password.js';
import type { Config } from '../platform/config.js';

/** Somebody of the plant at work: speaks to the server as a browser would, through its routes. */
export interface Worker {
  readonly person: string;
  get<Body>(path: string): Promise<Body>;
  post<Body = unknown>(path: string, body: object): Promise<Body>;
}

/** A route said no to a step of the story: the story is wrong, or the server is. */
export class StoryRefused extends Error {
  override readonly name = 'StoryRefused';
}

/** The server of the demonstration, with a clock that the story sets. */
export class PlantDesk {
  readonly #sessions = new Map<string, string>();

  private constructor(
    readonly app: NestFastifyApplication,
    readonly clock: SetClock,
  ) {}

  static async open(config: Config, at: string): Promise<PlantDesk> {
    const clock = new SetClock(at);
    const app = await createApp(config, clock);
    await app.init();
    await app.getHttpAdapter().getInstance().ready();
    return new PlantDesk(app, clock);
  }

  close(): Promise<void> {
    return this.app.close();
  }

  worker(person: string): Worker {
    return {
      person,
      get: <Body>(path: string) => this.#call<Body>(person, 'GET', path),
      post: <Body>(path: string, body: object) => this.#call<Body>(person, 'POST', path, body),
    };
  }

  /** Without a session, for the set-up code. */
  async post<Body>(path: string, body: object): Promise<Body> {
    const response = await this.app.inject({ method: 'POST', url: path, payload: body });
    if (response.statusCode >= 300) throw new StoryRefused(`${path}: ${response.body}`);
    return response.json();
  }

  async #call<Body>(person: string, method: 'GET' | 'POST', url: string, payload?: object): Promise<Body> {
    const send = (token: string) => this.app.inject({ method, url, cookies: { [SESSION_COOKIE]: token }, ...(payload ? { payload } : {}) });
    let response = await send(this.#sessions.get(person) ?? (await this.#signIn(person)));
    if (response.statusCode === 401) response = await send(await this.#signIn(person)); // a new day, a new session
    if (response.statusCode >= 300) {
      throw new StoryRefused(`${this.clock.now()} ${person} ${method} ${url} ${JSON.stringify(payload ?? {})}: ${response.body}`);
    }
    return response.json();
  }

  async #signIn(person: string): Promise<string> {
    const response = await this.app.inject({ method: 'POST', url: '/api/sign-in', payload: { person, password: DEMO_PASSWORD } });
    const token = response.cookies.find((cookie) => cookie.name === SESSION_COOKIE)?.value;
    if (token === undefined) throw new StoryRefused(`${person} cannot sign in: ${response.body}`);
    this.#sessions.set(person, token);
    return token;
  }
}
