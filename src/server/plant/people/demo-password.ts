/** Everybody's password in the demonstration, and nowhere else. */
export const DEMO_PASSWORD = 'fernhollow demo only';
