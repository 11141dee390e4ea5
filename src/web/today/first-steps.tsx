import { Link } from 'wouter';
import { Section } from '../design/page.js';

/** A plant that has just begun: what to enter first, in the order in which one thing needs another. */
export function FirstSteps() {
  return (
    <Section title="A new plant begins here">
      <ol>
        <li>
          <Link href="/set-up/people">People</Link>: who works here, and what each may do.
        </li>
        <li>
          <Link href="/set-up/items">Items</Link>, <Link href="/set-up/parties">parties</Link> and{' '}
          <Link href="/set-up/locations">locations</Link>: what is bought and made, from whom and for whom, and where it stands.
        </li>
        <li>
          <Link href="/set-up/recipes">Recipes</Link>, <Link href="/set-up/boms">bills of materials</Link>, vessels, lines and inspection
          plans.
        </li>
        <li>
          Records you already have come over as CSV files: <Link href="/set-up/imports">bring them over</Link>.
        </li>
        <li>
          Then the first <Link href="/receiving">delivery</Link>.
        </li>
      </ol>
    </Section>
  );
}
