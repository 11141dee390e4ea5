import { Command, Option } from 'commander';
import { ROLES, type Role } from '../plant/people/people.facts.js';
import { configOf, optionsOf, withPlant } from './context.js';
import { answer, tell } from './say.js';

interface Own {
  person: string;
  role: Role;
}

const createCommand = (): Command =>
  new Command('create')
    .description('make an API key for `Authorization: Bearer`; it is shown once')
    .requiredOption('--person <name>', 'person the key acts as; one nobody knows yet is added')
    .addOption(new Option('--role <role>', 'what the key may act as').choices([...ROLES]).makeOptionMandatory())
    .action(async (_own: Own, command: Command) => {
      const options = optionsOf<Own>(command);
      const { KeysService } = await import('../plant/people/keys.service.js');
      const key = await withPlant(configOf(options), (plant) => plant.get(KeysService).createKey(options.person, options.role));
      if (options.json) answer(JSON.stringify(key, null, 2));
      else {
        tell(`key ${key.id} for ${key.person} as ${options.role}; it is shown only now:`);
        answer(key.key);
      }
    });

export const keyCommand = (): Command => new Command('key').description('API keys').addCommand(createCommand().exitOverride());
