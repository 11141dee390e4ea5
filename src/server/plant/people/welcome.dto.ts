import { PersonView } from './people.dto.js';
import { MeView } from './sign-in.dto.js';

/** Who can try the demonstration, and how: only ever of a demonstration. */
export class DemoView {
  password: string;
  people: PersonView[];
}

export class WelcomeView {
  /** What the plant is called. */
  plant: string;
  /** Currency of every cost, a code of ISO 4217. */
  currency: string;
  /** Set when this is a demonstration: nothing in it is real. */
  demo: DemoView | null;
  /** False until the first administrator has been made with the code that the server printed. */
  hasPeople: boolean;
  /** Who is signed in with this browser; null for nobody. */
  me: MeView | null;
}
