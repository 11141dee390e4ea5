import { useLocations } from './choices.js';
import { CodeField } from './code-field.js';
import { TextField } from './fields.js';

/** The paper that comes or goes with goods, and where they stand. */
interface Paper {
  readonly documentType: string;
  readonly document: string;
  readonly location: string;
}

/** The kind of paper, its number, and where the goods stand: three fields of a grid. */
export function PaperFields({
  paper,
  papers,
  where,
  onChange,
}: {
  paper: Paper;
  /** Papers that are usual here, as the trade calls them; any other name can be typed. */
  papers: readonly string[];
  /** What the location is called here, as `Put at`. */
  where: string;
  onChange: (part: Partial<Paper>) => void;
}) {
  const locations = useLocations();
  return (
    <>
      <CodeField
        name="/documentType"
        label="Paper"
        required
        choices={papers.map((code) => ({ code, says: '' }))}
        value={paper.documentType}
        onValue={(documentType) => onChange({ documentType })}
      />
      <TextField
        name="/document"
        label="Its number"
        code
        required
        value={paper.document}
        onChange={(event) => onChange({ document: event.target.value })}
      />
      <CodeField
        name="/location"
        label={where}
        required
        choices={locations}
        value={paper.location}
        onValue={(location) => onChange({ location })}
      />
    </>
  );
}
