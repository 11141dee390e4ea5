import { createContext, type ReactNode, useContext } from 'react';
import type { View } from '../wire/client.js';

export type Me = View<'MeView'>;
export type Role = 'clerk' | 'operator' | 'inspector' | 'quality' | 'dispatcher' | 'recall-lead' | 'auditor' | 'administrator';

/** Whose record it is and who is signed in. */
interface Session {
  readonly me: Me;
  readonly plant: string;
  readonly currency: string;
  readonly demo: boolean;
}
const Signed = createContext<Session | null>(null);

export function SignedIn({ session, children }: { session: Session; children: ReactNode }) {
  return <Signed.Provider value={session}>{children}</Signed.Provider>;
}

/** The plant, its currency, and whether it is a demonstration. */
export function useSession(): Session {
  const session = useContext(Signed);
  if (session === null) throw new Error('only pages behind the sign-in may ask who is signed in');
  return session;
}

/** Who is signed in. */
export const useMe = (): Me => useSession().me;

/** Whether the person has one of these roles: for showing what they can do. The server decides what they may. */
export function useMay(...roles: readonly Role[]): boolean {
  return useMe().roles.some((role) => (roles as readonly string[]).includes(role));
}
