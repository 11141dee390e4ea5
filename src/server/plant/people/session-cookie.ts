/** Name of the cookie that carries the session's token. */
export const SESSION_COOKIE = 'kinledger_session';

export const readToken = (request: { readonly cookies?: Readonly<Record<string, string | undefined>> }): string | undefined =>
  request.cookies?.[SESSION_COOKIE] || undefined;

/** Not readable by scripts, sent only by the plant's own pages; over TLS it never travels in the clear. */
export const cookieOptions = (protocol: string) =>
  ({ httpOnly: true, sameSite: 'strict', secure: protocol === 'https', path: '/' }) as const;
