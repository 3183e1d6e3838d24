/**
 * Where the drawing stands in its view: fitted, zoomed about the pointer or the middle, moved by
 * dragging or keys.
 *
 * Must not know: what is drawn.
 */

const least = 0.1;
const most = 20;
const step = 40;

export class Stage {
  /** True right after the drawing was moved by the pointer: what follows is no click. */
  dragged = false;
  private readonly stage = document.createElement("div");
  private scale = 1;
  private x = 0;
  private y = 0;
  private touched = false;

  constructor(private readonly view: HTMLElement) {
    this.stage.className = "stage";
    view.append(this.stage);
    view.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    view.addEventListener("pointerdown", (event) => this.grab(event));
    new ResizeObserver(() => {
      if (!this.touched) this.fit();
    }).observe(view);
  }

  clear(): void {
    this.stage.replaceChildren();
  }

  /** `fresh`: another drawing than before, which is fitted; the same one stays where it was. */
  show(svg: SVGSVGElement, fresh: boolean): void {
    this.stage.replaceChildren(svg);
    if (fresh || !this.touched) this.fit();
  }

  fit(): void {
    const svg = this.stage.firstElementChild;
    if (svg === null) return;
    const { clientWidth, clientHeight } = this.view;
    const wide = svg.clientWidth || 1;
    const high = svg.clientHeight || 1;
    this.scale = Math.min(clientWidth / wide, clientHeight / high, 3) || 1;
    this.x = (clientWidth - wide * this.scale) / 2;
    this.y = (clientHeight - high * this.scale) / 2;
    this.touched = false;
    this.place();
  }

  zoom(by: number, atX = this.view.clientWidth / 2, atY = this.view.clientHeight / 2): void {
    const scale = Math.min(most, Math.max(least, this.scale * by));
    this.x = atX - ((atX - this.x) * scale) / this.scale;
    this.y = atY - ((atY - this.y) * scale) / this.scale;
    this.scale = scale;
    this.touched = true;
    this.place();
  }

  /** True where the key meant something. */
  key(name: string): boolean {
    const moves: Readonly<Record<string, readonly [number, number]>> = {
      ArrowLeft: [step, 0],
      ArrowRight: [-step, 0],
      ArrowUp: [0, step],
      ArrowDown: [0, -step],
    };
    const move = moves[name];
    if (move !== undefined) {
      this.x += move[0];
      this.y += move[1];
      this.touched = true;
      this.place();
    } else if (name === "+" || name === "=") this.zoom(1.25);
    else if (name === "-") this.zoom(0.8);
    else if (name === "0") this.fit();
    else return false;
    return true;
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    const { left, top } = this.view.getBoundingClientRect();
    this.zoom(Math.exp(-event.deltaY / 400), event.clientX - left, event.clientY - top);
  }

  private grab(event: PointerEvent): void {
    this.dragged = false;
    const from = { x: event.clientX - this.x, y: event.clientY - this.y };
    const start = { x: event.clientX, y: event.clientY };
    const move = (moved: PointerEvent): void => {
      if (Math.hypot(moved.clientX - start.x, moved.clientY - start.y) < 4 && !this.dragged) return;
      this.dragged = true;
      this.touched = true;
      this.view.classList.add("dragging");
      this.x = moved.clientX - from.x;
      this.y = moved.clientY - from.y;
      this.place();
    };
    const end = (): void => {
      this.view.classList.remove("dragging");
      window.removeEventListener("pointermove", move);
      window.removeEventListener("pointerup", end);
    };
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", end);
  }

  private place(): void {
    this.stage.style.transform = `translate(${this.x}px,${this.y}px) scale(${this.scale})`;
  }
}
