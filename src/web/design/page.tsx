import { type ReactNode, useEffect, useRef } from 'react';
import { InPage } from './in-page.js';

export interface Fact {
  readonly label: string;
  readonly value: ReactNode;
  /** Drawn in the accent: this one needs a person. */
  readonly warn?: boolean;
}

/** The numbers a page is about, before everything else. */
export function Facts({ facts }: { facts: readonly Fact[] }) {
  return (
    <dl className="facts">
      {facts.map(({ label, value, warn }) => (
        <div key={label} className={warn ? 'warn' : undefined}>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/**
 * A page of the record: a heading that takes focus when one comes here, so that a screen reader says where one is, and the numbers
 * beside it. `name` is the tab's title where the heading is more than text.
 */
export function Page({
  title,
  name,
  crumb,
  sub,
  stamps,
  facts,
  actions,
  children,
}: {
  title: ReactNode;
  name?: string;
  crumb?: ReactNode;
  sub?: ReactNode;
  stamps?: ReactNode;
  facts?: readonly Fact[];
  actions?: ReactNode;
  children: ReactNode;
}) {
  const heading = useRef<HTMLHeadingElement>(null);
  const text = name ?? (typeof title === 'string' ? title : '');
  useEffect(() => {
    document.title = text === '' ? 'Kinledger' : `${text} · Kinledger`;
    if (document.activeElement === document.body || document.activeElement === null) heading.current?.focus({ preventScroll: true });
  }, [text]);
  return (
    <InPage value={true}>
      <main className="page" id="main">
        <div className="page-head">
          <div>
            {crumb === undefined ? null : <p className="crumb">{crumb}</p>}
            <h1 ref={heading} tabIndex={-1}>
              {title} {stamps}
            </h1>
            {sub === undefined ? null : <p className="sub">{sub}</p>}
          </div>
          {facts === undefined ? null : <Facts facts={facts} />}
          {actions === undefined ? null : <div className="row no-print">{actions}</div>}
        </div>
        {children}
      </main>
    </InPage>
  );
}

/** A titled part of a page, with a remark in small type and what can be done about it. */
export function Section({
  title,
  note,
  actions,
  children,
  id,
  screenOnly = false,
}: {
  title: string;
  note?: ReactNode;
  actions?: ReactNode;
  children: ReactNode;
  id?: string;
  /** Left out on paper: something to be done here, and nothing that is said. */
  screenOnly?: boolean;
}) {
  return (
    <section className={screenOnly ? 'section no-print' : 'section'} id={id} aria-label={title}>
      <div className="section-head">
        <h2>
          {title}
          {note === undefined ? null : <small>{note}</small>}
        </h2>
        {actions === undefined ? null : <div className="row no-print">{actions}</div>}
      </div>
      {children}
    </section>
  );
}

/** A caution stands where the risk is. */
export function Caution({ children }: { children: ReactNode }) {
  return (
    <div className="caution" role="note">
      {children}
    </div>
  );
}

/** Something worth knowing that asks for nothing. */
export function Notice({ children }: { children: ReactNode }) {
  return <div className="notice">{children}</div>;
}

/** An empty page teaches: what goes here and how to put the first one in. */
export function Empty({ children }: { children: ReactNode }) {
  return <div className="empty">{children}</div>;
}
