import { createContext } from 'react';

/** True within a dialog: what lies behind it does nothing while it is open. */
export const InDialog = createContext(false);
