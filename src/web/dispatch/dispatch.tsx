import { Page } from '../design/page.js';

export default function Dispatch() {
  return <Page title="Dispatch">{null}</Page>;
}
