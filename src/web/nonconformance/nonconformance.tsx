import { Page } from '../design/page.js';

export default function Nonconformance() {
  return <Page title="Nonconformance">{null}</Page>;
}
