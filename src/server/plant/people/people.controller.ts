import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import { FewTries } from '../../platform/http/limits.js';
import { type Actor, CurrentActor, EVERYONE, May, OpenToAll } from './access.js';
import { KeysService } from './keys.service.js';
import {
  AddPersonDto,
  ChangeRolesDto,
  CreateKeyDto,
  KeyView,
  NewKeyView,
  PersonReasonDto,
  PersonView,
  ResetPasswordDto,
  SetNameDto,
  SetUpDto,
} from './people.dto.js';
import { PeopleService } from './people.service.js';
import { SetUpService } from './set-up.service.js';

@Controller('people')
export class PeopleController {
  constructor(private readonly people: PeopleService) {}

  /** Everyone who can be named in an entry, by code. */
  @Get()
  @May(...EVERYONE)
  listPeople(): Promise<PersonView[]> {
    return this.people.people();
  }

  /** One person. */
  @Get(':person')
  @May(...EVERYONE)
  getPerson(@Param('person') person: string): Promise<PersonView> {
    return this.people.person(person);
  }

  /** Adds a person under a code that stays theirs. */
  @Post()
  @May('administrator')
  addPerson(@CurrentActor() actor: Actor, @Body() body: AddPersonDto): Promise<PersonView> {
    return this.people.add(actor, body);
  }

  /** Sets a person's roles anew. */
  @Post(':person/roles')
  @HttpCode(200)
  @May('administrator')
  changePersonRoles(@CurrentActor() actor: Actor, @Param('person') person: string, @Body() body: ChangeRolesDto): Promise<PersonView> {
    return this.people.changeRoles(actor, person, body);
  }

  /** Blocks a person: sessions end, keys stop, nothing can be signed. */
  @Post(':person/block')
  @HttpCode(200)
  @May('administrator')
  blockPerson(@CurrentActor() actor: Actor, @Param('person') person: string, @Body() body: PersonReasonDto): Promise<PersonView> {
    return this.people.block(actor, person, body);
  }

  /** Lets a blocked person act again. */
  @Post(':person/unblock')
  @HttpCode(200)
  @May('administrator')
  unblockPerson(@CurrentActor() actor: Actor, @Param('person') person: string, @Body() body: PersonReasonDto): Promise<PersonView> {
    return this.people.unblock(actor, person, body);
  }

  /** Gives a person a new password; their sessions end. */
  @Post(':person/password')
  @HttpCode(200)
  @May('administrator')
  resetPersonPassword(@CurrentActor() actor: Actor, @Param('person') person: string, @Body() body: ResetPasswordDto): Promise<PersonView> {
    return this.people.resetPassword(actor, person, body.password);
  }

  /** Sets what a person is called, or erases it. */
  @Post(':person/name')
  @HttpCode(200)
  @May('administrator')
  setPersonName(@Param('person') person: string, @Body() body: SetNameDto): Promise<PersonView> {
    return this.people.setName(person, body.displayName ?? null);
  }
}

@Controller('keys')
export class KeysController {
  constructor(private readonly keys: KeysService) {}

  /** Makes a key for `Authorization: Bearer`; it is shown once. */
  @Post()
  @May('administrator')
  createKey(@CurrentActor() actor: Actor, @Body() body: CreateKeyDto): Promise<NewKeyView> {
    return this.keys.create(actor, body);
  }

  /** Every key ever made, without the keys themselves. */
  @Get()
  @May('administrator', 'auditor')
  listKeys(): Promise<KeyView[]> {
    return this.keys.list();
  }

  /** Stops a key for good. */
  @Post(':key/revoke')
  @HttpCode(200)
  @May('administrator')
  revokeKey(@CurrentActor() actor: Actor, @Param('key') key: string): Promise<KeyView> {
    return this.keys.revoke(actor, key);
  }
}

@Controller('set-up')
export class SetUpController {
  constructor(private readonly setUps: SetUpService) {}

  /** Makes the first administrator with the one-time code that the server printed. */
  @Post()
  @OpenToAll()
  @FewTries()
  setUp(@Body() body: SetUpDto): Promise<PersonView> {
    return this.setUps.setUp(body);
  }
}
