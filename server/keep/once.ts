/**
 * What is worked out when it is first asked for, and then stays.
 *
 *     const limits = once(() => work());   limits();   limits()   // worked once
 *
 * Must not know: what it comes to.
 */
export function once<T>(make: () => T): () => T {
  let made: { readonly of: T } | undefined;
  return () => {
    made ??= { of: make() };
    return made.of;
  };
}
