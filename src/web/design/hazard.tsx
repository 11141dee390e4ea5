import { Caution } from './page.js';

/** The hazard of goods, where they are handled. Nothing where no hazard is known. */
export function Hazard({
  says,
  of,
  handling = false,
}: {
  says: string | null | undefined;
  /** What it is the hazard of, where the page is not about that alone. */
  of?: string;
  /** Also says what to go by, where the goods are met for the first time. */
  handling?: boolean;
}) {
  if (!says) return null;
  return (
    <Caution>
      <p>
        <strong>Hazard{of === undefined ? '' : `, ${of}`}:</strong> {says}
        {handling ? '. Handle and store it as its safety data sheet and local rules say.' : ''}
      </p>
    </Caution>
  );
}
