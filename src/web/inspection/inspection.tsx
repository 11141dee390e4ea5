import { Page } from '../design/page.js';

export default function Inspection() {
  return <Page title="Inspection">{null}</Page>;
}
