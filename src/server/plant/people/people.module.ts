import { Global, Module } from '@nestjs/common';
import { APP_GUARD } from '@nestjs/core';
import { AccessGuard } from './access.guard.js';
import { KeysService } from './keys.service.js';
import { PasswordCheck } from './password-check.service.js';
import { KeysController, PeopleController, SetUpController } from './people.controller.js';
import { PeopleService } from './people.service.js';
import { SetUpService } from './set-up.service.js';
import { Signatures } from './signature.js';
import { PasswordSignatures } from './signatures.service.js';
import { SignInController } from './sign-in.controller.js';
import { SignInService } from './sign-in.service.js';
import { WelcomeController } from './welcome.controller.js';

/** Who works here, who may do what, and what their signature is. */
@Global()
@Module({
  controllers: [SignInController, PeopleController, KeysController, SetUpController, WelcomeController],
  providers: [
    PasswordCheck,
    SignInService,
    PeopleService,
    KeysService,
    SetUpService,
    { provide: Signatures, useClass: PasswordSignatures },
    { provide: APP_GUARD, useClass: AccessGuard },
  ],
  exports: [Signatures, PeopleService, KeysService, SetUpService],
})
export class PeopleModule {}
