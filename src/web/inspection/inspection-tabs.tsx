import { Link, useLocation } from 'wouter';

const TABS = [
  { path: '/inspection', says: 'Queue' },
  { path: '/inspection/severity', says: 'Severity' },
  { path: '/inspection/oc', says: 'What a plan can tell' },
  { path: '/inspection/charts', says: 'Control charts' },
  { path: '/inspection/instruments', says: 'Instruments' },
  { path: '/inspection/figures', says: 'Figures' },
] as const;

/** The parts of this place. */
export function InspectionTabs() {
  const [location] = useLocation();
  const isAt = (path: string): boolean => location === path || (path !== '/inspection' && location.startsWith(`${path}/`));
  return (
    <nav className="tabs" aria-label="Parts of Inspection">
      {TABS.map(({ path, says }) => (
        <Link key={path} href={path} aria-current={isAt(path) ? 'page' : undefined}>
          {says}
        </Link>
      ))}
    </nav>
  );
}
