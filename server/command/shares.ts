/**
 * Checks many builds on all cores: the files are dealt out to threads that run this very program.
 *
 * Must not know: what is checked, how findings are written.
 */
import { availableParallelism } from "node:os";
import { parentPort, Worker, workerData } from "node:worker_threads";
import { type Checked, type CheckWork, checkFiles } from "./check-files";
import { Session } from "./session";
import type { World } from "./world";

/** Starting a thread costs as much as some twenty builds. */
const leastForAThread = 40;
const mostThreads = 8;
/** In MB for each thread; a share that needs more is done again by the one that dealt it out. */
const mostMemory = 112;

/** In turn where there is little to do or `world` has no program to run in threads. */
export async function checkInShares(work: CheckWork, session: Session): Promise<Checked> {
  const { program } = session.world;
  const threads = Math.min(
    availableParallelism(),
    mostThreads,
    Math.floor(work.files.length / leastForAThread),
  );
  if (program === undefined || threads < 2) return checkFiles(work, session);
  const shares = dealtOut(work.files, threads);
  const [own, ...others] = shares.map((files) => ({ ...work, files }));
  const running = others.map((share) => inThread(share, program, session.world.folder));
  // What a thread could not do is done here, so that the outcome never hangs on threads.
  const mine = own === undefined ? [] : [checkFiles(own, session)];
  const theirs = await Promise.all(
    running.map((each, index) => each.catch(() => checkFiles(others[index] as CheckWork, session))),
  );
  const all = [...mine, ...theirs];
  return {
    files: all.flatMap(({ files }) => files),
    problems: all.flatMap(({ problems }) => problems),
  };
}

/** What a thread does: its share, told to who started it. */
export function answerShare(world: World): void {
  const { work, folder } = workerData as { work: CheckWork; folder: string };
  parentPort?.postMessage(checkFiles(work, new Session({ ...world, folder })));
}

// ───────────────────────────── helpers ─────────────────────────────

/** Neighbours stay together: a build and its parts lie in one folder. */
function dealtOut(files: CheckWork["files"], shares: number): CheckWork["files"][] {
  const sorted = [...files].sort((one, other) => (one.path < other.path ? -1 : 1));
  const size = Math.ceil(sorted.length / shares);
  const order = new Map(files.map((file, index) => [file, index]));
  return Array.from({ length: shares }, (_, share) =>
    sorted
      .slice(share * size, (share + 1) * size)
      .sort((one, other) => (order.get(one) ?? 0) - (order.get(other) ?? 0)),
  );
}

function inThread(work: CheckWork, program: string, folder: string): Promise<Checked> {
  return new Promise((done, failed) => {
    const worker = new Worker(program, {
      workerData: { work, folder },
      resourceLimits: { maxOldGenerationSizeMb: mostMemory, maxYoungGenerationSizeMb: 16 },
    });
    worker.once("message", (checked: Checked) => done(checked));
    worker.once("error", failed);
    worker.once("exit", () => failed(new Error("the thread ended early")));
  });
}
