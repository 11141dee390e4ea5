import { Global, Module } from '@nestjs/common';
import { APP_GUARD } from '@nestjs/core';
import { AccessGuard } from './access.guard.js';
import { PasswordCheck } from './password-check.service.js';
import { Signatures } from './signature.js';
import { PasswordSignatures } from './signatures.service.js';
import { SignInController } from './sign-in.controller.js';
import { SignInService } from './sign-in.service.js';

/** Who works here, who may do what, and what their signature is. */
@Global()
@Module({
  controllers: [SignInController],
  providers: [PasswordCheck, SignInService, { provide: Signatures, useClass: PasswordSignatures }, { provide: APP_GUARD, useClass: AccessGuard }],
  exports: [Signatures],
})
export class PeopleModule {}
