import { Link, useLocation } from 'wouter';

/** The parts of a place, each with an address of its own. */
export function Tabs({ label, tabs }: { label: string; tabs: readonly { href: string; title: string }[] }) {
  const [location] = useLocation();
  return (
    <nav className="tabs" aria-label={label}>
      {tabs.map(({ href, title }) => (
        <Link key={href} href={href} aria-current={location === href ? 'page' : undefined}>
          {title}
        </Link>
      ))}
    </nav>
  );
}
