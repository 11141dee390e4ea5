import { Page } from '../design/page.js';

export default function SetUp() {
  return <Page title="Set-up">{null}</Page>;
}
