import { Body, Controller, Get, HttpCode, Post, Req, Res } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { FewTries } from '../../platform/http/limits.js';
import { type Actor, CurrentActor, EVERYONE, May, OpenToAll } from './access.js';
import { cookieOptions, readToken, SESSION_COOKIE } from './session-cookie.js';
import { ChangePasswordDto, DoneView, MeView, SignInDto } from './sign-in.dto.js';
import { SignInService } from './sign-in.service.js';

@Controller()
export class SignInController {
  constructor(private readonly signIns: SignInService) {}

  /** Signs in with code and password; the session is in a cookie. */
  @Post('sign-in')
  @HttpCode(200)
  @OpenToAll()
  @FewTries()
  async signIn(@Body() body: SignInDto, @Req() request: FastifyRequest, @Res({ passthrough: true }) reply: FastifyReply): Promise<MeView> {
    const { token, me } = await this.signIns.signIn(body.person, body.password);
    reply.setCookie(SESSION_COOKIE, token, cookieOptions(request.protocol));
    return me;
  }

  /** Ends the session of the cookie, if there is one. */
  @Post('sign-out')
  @HttpCode(200)
  @OpenToAll()
  async signOut(@Req() request: FastifyRequest, @Res({ passthrough: true }) reply: FastifyReply): Promise<DoneView> {
    const token = readToken(request);
    if (token !== undefined) await this.signIns.signOut(token);
    reply.clearCookie(SESSION_COOKIE, cookieOptions(request.protocol));
    return { done: true };
  }

  /** Who is signed in, and what they may act as. */
  @Get('me')
  @May(...EVERYONE)
  whoAmI(@CurrentActor() actor: Actor): Promise<MeView> {
    return this.signIns.me(actor);
  }

  /** Changes one's own password; every other session of the person ends. */
  @Post('me/password')
  @HttpCode(200)
  @May(...EVERYONE)
  async changeOwnPassword(
    @CurrentActor() actor: Actor,
    @Body() body: ChangePasswordDto,
    @Req() request: FastifyRequest,
  ): Promise<DoneView> {
    await this.signIns.changePassword(actor, readToken(request), body.currentPassword, body.newPassword);
    return { done: true };
  }
}
