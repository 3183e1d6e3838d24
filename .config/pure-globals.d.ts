/**
 * What rooms without a world may use beyond the language itself: no process, no disk, no network.
 * Everything that is not here fails the walls' test.
 */
declare class URL {
  constructor(url: string, base?: string | URL);
  readonly href: string;
  readonly protocol: string;
  pathname: string;
  hash: string;
}
/** For giving way to other work between two parts of a long search. */
declare function setTimeout(call: () => void, milliseconds?: number): unknown;
