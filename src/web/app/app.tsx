import { QueryClient, QueryClientProvider, useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { onSignedOut, server } from '../wire/client.js';
import { Answered } from '../design/answered.js';
import { type Me, SignedIn } from './session.js';
import { Shell } from './shell.js';
import { SignIn } from './sign-in.js';
import { SignInAgain } from './sign-in-again.js';

const queries = new QueryClient({
  defaultOptions: {
    // What is on the page is read anew when somebody comes back to it; a failed reading is tried again by the person, who sees why.
    queries: { staleTime: 2000, retry: false, networkMode: 'always' },
    mutations: { networkMode: 'always' },
  },
});

export function App() {
  return (
    <QueryClientProvider client={queries}>
      <Door />
    </QueryClientProvider>
  );
}

/**
 * Nothing is shown to someone who is not signed in. When a session ends in the middle of a page, the page stays as it is behind the
 * sign-in: what was typed there is not lost. Somebody else gets a page of their own.
 */
function Door() {
  const client = useQueryClient();
  const welcome = server.useQuery('get', '/api/welcome', {}, { staleTime: Infinity });
  const [last, setLast] = useState<Me | null>(null);
  const me = welcome.data?.me ?? null;
  if (me !== null && me !== last) setLast(me);
  const again = (): void => {
    setLast(null);
    void client.resetQueries();
  };
  useEffect(() => onSignedOut(() => void client.invalidateQueries({ queryKey: ['get', '/api/welcome'] })), [client]);
  return (
    <Answered query={welcome} what="who is signed in">
      {({ demo, me: now, ...plant }) => {
        const shown = now ?? last;
        if (shown === null) return <SignIn plant={plant.plant} demo={demo} hasPeople={plant.hasPeople} onSignedIn={again} />;
        return (
          <SignedIn key={shown.person} session={{ ...plant, me: shown, demo: demo !== null }}>
            <Shell onSignedOut={again} />
            {now === null ? <SignInAgain me={shown} onSignedIn={() => client.invalidateQueries()} onLeave={again} /> : null}
          </SignedIn>
        );
      }}
    </Answered>
  );
}
