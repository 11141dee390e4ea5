import { Tabs } from '../design/tabs.js';

/** The parts of dispatch. */
export function DispatchTabs() {
  return (
    <Tabs
      label="Dispatch"
      tabs={[
        { href: '/dispatch', title: 'Ship' },
        { href: '/dispatch/shipments', title: 'Shipments' },
        { href: '/dispatch/returns', title: 'Returns' },
        { href: '/dispatch/recipients', title: 'Recipients' },
      ]}
    />
  );
}
