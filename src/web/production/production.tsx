import { Page } from '../design/page.js';

export default function Production() {
  return <Page title="Production">{null}</Page>;
}
