import { createContext } from 'react';

/** Whether what is drawn stands within a page: what stands alone must be one, with its landmark and its heading. */
export const InPage = createContext(false);
