/**
 * Checks many builds on all cores: the files are dealt out to threads that run this very program.
 *
 * Must not know: what is checked, how findings are written.
 */
import { availableParallelism } from "node:os";
import { parentPort, Worker, workerData } from "node:worker_threads";
import { type CheckedFiles, type CheckWork, checkFiles } from "./check-files";
import { Session } from "./session";
import type { World } from "./world";

/** Starting a thread costs as much as some twenty builds. */
const leastForAThread = 40;
const mostThreads = 8;
/** In MB for each thread; a share that needs more is done again by the one that dealt it out. */
const mostMemory = 72;
/** In MB too: what is made for one build is let go with it, seldom before. */
const mostYoung = 24;

/** In turn where there is little to do or `world` has no program to run in threads. */
export async function checkInShares(work: CheckWork, session: Session): Promise<CheckedFiles> {
  const { program } = session.world;
  const threads = Math.min(
    availableParallelism(),
    mostThreads,
    Math.floor(work.files.length / leastForAThread),
  );
  if (program === undefined || threads < 2) return checkFiles(work, session);
  const shares = dealtOut(work.files, threads);
  // A thread keeps to the memory it is given, which this one does not; so all is dealt out. What a
  // thread could not do is done here: the outcome never hangs on threads.
  const all = await Promise.all(
    shares
      .map((files) => ({ ...work, files }))
      .map((share) =>
        inThread(share, program, session.world.folder).catch(() => checkFiles(share, session)),
      ),
  );
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

/** Neighbors stay together: a build and its parts lie in one folder. */
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

function inThread(work: CheckWork, program: string, folder: string): Promise<CheckedFiles> {
  return new Promise((done, failed) => {
    const worker = new Worker(program, {
      workerData: { work, folder },
      resourceLimits: { maxOldGenerationSizeMb: mostMemory, maxYoungGenerationSizeMb: mostYoung },
    });
    worker.once("message", (checked: CheckedFiles) => done(checked));
    worker.once("error", failed);
    worker.once("exit", () => failed(new Error("the thread ended early")));
  });
}
