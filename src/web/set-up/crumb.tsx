import { Link } from 'wouter';

/** The way back to the contents of the set-up, and to the list a record stands in. */
export function Crumb({ place, title }: { place?: string; title?: string }) {
  return (
    <>
      <Link href="/set-up" className="tap">
        Set-up
      </Link>
      {place === undefined ? null : (
        <>
          {' '}
          ›{' '}
          <Link href={`/set-up/${place}`} className="tap">
            {title}
          </Link>
        </>
      )}
    </>
  );
}
