import { Page } from '../design/page.js';

export default function Today() {
  return <Page title="Today">{null}</Page>;
}
