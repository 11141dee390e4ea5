import { Page } from '../design/page.js';

export function SuspectsPage() {
  return <Page title="Suspects">{null}</Page>;
}
