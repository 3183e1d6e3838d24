/**
 * An object of which some is worked out when any of that is first asked for, all of it at once.
 *
 *     deferred({ name: "axle" }, ["fields"], () => ({ fields: readFields() }))
 *
 * Must not know: what is in it.
 */
export function deferred<H extends object, B extends object>(
  head: H,
  keys: readonly (keyof B & string)[],
  read: () => B,
): H & B {
  let body: B | undefined;
  const made = { ...head } as H & B;
  for (const key of keys) {
    Object.defineProperty(made, key, {
      enumerable: true,
      configurable: true,
      get: () => {
        body ??= read();
        return body[key];
      },
    });
  }
  return made;
}
