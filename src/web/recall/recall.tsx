import { Page } from '../design/page.js';

export default function Recall() {
  return <Page title="Recall">{null}</Page>;
}
