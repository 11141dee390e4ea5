import { Suspense, useRef } from 'react';
import { Link, Route, Switch, useLocation } from 'wouter';
import { api } from '../wire/client.js';
import { OutboxStrip } from '../outbox/outbox-strip.js';
import { ScanListener } from '../scan/scans.js';
import { DemoBand } from './demo-band.js';
import { Find } from './find.js';
import { PageFault } from './page-fault.js';
import { PLACES } from './places.js';
import { useMe, useSession } from './session.js';
import { THEMES, type Theme, useTheme } from './theme.js';
import './shell.css';

const isAt = (location: string, path: string): boolean =>
  path === '/' ? location === '/' : location === path || location.startsWith(`${path}/`);

/** Everything around a page: where one is, who one is, one box to find anything, what was scanned and what waits to be sent. */
export function Shell({ onSignedOut }: { onSignedOut: () => void }) {
  const [location] = useLocation();
  const { demo } = useSession();
  return (
    <>
      <a className="skip" href="#main">
        To the page
      </a>
      {demo ? <DemoBand /> : null}
      <Header location={location} onSignedOut={onSignedOut} />
      <OutboxStrip />
      <ScanListener>
        <PageFault key={location}>
          <Suspense fallback={<Loading />}>
            <Switch>
              <Route path="/find" component={Find} />
              {PLACES.map(({ path, screen }) => (
                <Route key={path} path={path === '/' ? '/' : `${path}/*?`} component={screen} />
              ))}
              <Route>
                <NoSuchPage />
              </Route>
            </Switch>
          </Suspense>
        </PageFault>
      </ScanListener>
    </>
  );
}

function Header({ location, onSignedOut }: { location: string; onSignedOut: () => void }) {
  const { plant } = useSession();
  return (
    <header className="shell-head">
      <div className="inside">
        <div className="shell-top">
          <Link className="mark" href="/">
            <img src="/mark.svg" width="28" height="28" alt="" /> Kinledger
          </Link>
          <span className="plant">{plant}</span>
          <FindBox />
          <Who onSignedOut={onSignedOut} />
        </div>
        <nav className="places" aria-label="Places">
          {PLACES.map(({ path, title }) => (
            <Link key={path} href={path} aria-current={isAt(location, path) ? 'page' : undefined}>
              {title}
            </Link>
          ))}
        </nav>
      </div>
    </header>
  );
}

function FindBox() {
  const [, go] = useLocation();
  const box = useRef<HTMLInputElement>(null);
  return (
    <form
      role="search"
      onSubmit={(event) => {
        event.preventDefault();
        const text = box.current?.value.trim() ?? '';
        if (text !== '') go(`/find?text=${encodeURIComponent(text)}`);
      }}
    >
      <input
        ref={box}
        type="search"
        aria-label="Find anything by its code"
        placeholder="Find any code, or scan"
        autoComplete="off"
        spellCheck={false}
      />
    </form>
  );
}

function Who({ onSignedOut }: { onSignedOut: () => void }) {
  const me = useMe();
  const [theme, setTheme] = useTheme();
  const signOut = async (): Promise<void> => {
    await api.POST('/api/sign-out').catch(() => undefined);
    onSignedOut();
  };
  return (
    <details>
      <summary>
        {me.displayName ?? me.person}, {me.roles[0]}
      </summary>
      <div>
        <p className="quiet">
          Signed in as <code>{me.person}</code>: {me.roles.join(', ')}
        </p>
        <label>
          Light or dark{' '}
          <select value={theme} onChange={(event) => setTheme(event.target.value as Theme)}>
            {THEMES.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
        <Link href="/set-up/me">Change my password</Link>
        <button type="button" onClick={() => void signOut()}>
          Sign out
        </button>
      </div>
    </details>
  );
}

const Loading = () => (
  <main className="page" id="main">
    <p className="quiet" role="status">
      Opening the page …
    </p>
  </main>
);

const NoSuchPage = () => (
  <main className="page" id="main">
    <h1>There is no such page</h1>
    <p>
      <Link href="/">To what waits today</Link>
    </p>
  </main>
);
