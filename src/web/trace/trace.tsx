import { Page } from '../design/page.js';

export default function Trace() {
  return <Page title="Trace">{null}</Page>;
}
