import { Global, Module } from '@nestjs/common';
import { Commands } from './commands.js';
import { PeopleModule } from './people/people.module.js';
import { ReceivingModule } from './receiving/receiving.module.js';

/** Everything that happens in the plant. */
@Global()
@Module({ imports: [PeopleModule, ReceivingModule], providers: [Commands], exports: [Commands] })
export class PlantModule {}
