import { Link, useLocation } from 'wouter';

const TABS = [
  { path: '/lots', title: 'Lots' },
  { path: '/lots/stock', title: 'Stock on hand' },
  { path: '/lots/holds', title: 'Holds' },
  { path: '/lots/urgent-releases', title: 'Urgent releases' },
] as const;

/** The lists of this place. */
export function LotsTabs() {
  const [location] = useLocation();
  return (
    <nav className="tabs" aria-label="Lists of lots">
      {TABS.map(({ path, title }) => (
        <Link key={path} href={path} aria-current={location === path ? 'page' : undefined}>
          {title}
        </Link>
      ))}
    </nav>
  );
}
