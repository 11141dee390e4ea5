import { QueryClient, QueryClientProvider, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { onSignedOut, server } from '../wire/client.js';
import { Answered } from '../design/answered.js';
import { SignedIn } from './session.js';
import { Shell } from './shell.js';
import { SignIn } from './sign-in.js';

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

/** Nothing is shown to someone who is not signed in; who is signed out comes back to the page they were on. */
function Door() {
  const client = useQueryClient();
  const welcome = server.useQuery('get', '/api/welcome', {}, { staleTime: Infinity });
  const again = (): void => void client.resetQueries();
  useEffect(() => onSignedOut(() => void client.resetQueries({ queryKey: ['get', '/api/welcome'] })), [client]);
  return (
    <Answered query={welcome} what="who is signed in">
      {({ me, demo, ...plant }) =>
        me === null ? (
          <SignIn plant={plant.plant} demo={demo} hasPeople={plant.hasPeople} onSignedIn={again} />
        ) : (
          <SignedIn session={{ ...plant, me, demo: demo !== null }}>
            <Shell onSignedOut={again} />
          </SignedIn>
        )
      }
    </Answered>
  );
}
