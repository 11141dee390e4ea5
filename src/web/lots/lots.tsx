import { Page } from '../design/page.js';

export default function Lots() {
  return <Page title="Lots">{null}</Page>;
}
