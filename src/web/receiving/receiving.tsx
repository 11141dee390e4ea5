import { Page } from '../design/page.js';

export default function Receiving() {
  return <Page title="Receiving">{null}</Page>;
}
