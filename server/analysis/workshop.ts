/**
 * What all builds that are read in one process have in common: ids, formulas, plans and cells. Two
 * builds that share their parts have these worked out once.
 *
 * Must not know: files, any one build.
 */

import type { Item } from "../../grammar/syntax";
import { endless, type Patience, workFor } from "../keep/patience";
import { FormPool } from "../model/kind-environment";
import type { Row } from "../model/model";
import { Ids } from "../names/ids";
import { Plans } from "../solve";

export class Workshop {
  readonly ids = new Ids();
  /** Shared formulas; lives as long as the vocabulary. */
  readonly pool = new FormPool();
  readonly plans = new Plans();
  private waiting: Patience = endless;
  /** Rows of readings nobody waited for: where they hold they are not made again. */
  readonly leftOver = new WeakMap<Item, Row>();
  /** Counts what is made, for tests and for measuring. */
  readonly counts = { trees: 0, rows: 0, equations: 0, advice: 0 };

  /** Of whoever asked last; set before a build is read. */
  get patience(): Patience {
    return this.waiting;
  }

  set patience(patience: Patience) {
    this.waiting = patience;
    workFor(patience);
  }

  /** A file is let go, and the cells of its build with it. */
  forget(uri: string): void {
    this.ids.forget(uri);
    this.plans.forget();
  }
}
