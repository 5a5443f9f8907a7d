// The stage plan under a hand: what is dragged, or moved by keys, is written into the fields that are saved.

const STEP_CM = 25;
const TURN_DEG = 15;
const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const TURNS = { "[": -1, "]": 1 };

export function moveOnStage(plan) {
  if (!plan) return;
  for (const one of plan.querySelectorAll("[data-field]")) listen(plan, new Thing(one));
}

class Thing {
  constructor(element) {
    this.element = element;
    this.facing = element.querySelector(".facing");
    const { e: x, f: y } = element.transform.baseVal.getItem(0).matrix;
    this.at = { x, y };
  }

  field(name) {
    return document.querySelector(`[name="${this.element.dataset.field}-${name}"]`);
  }

  put(x, y) {
    this.at = { x: Math.round(x), y: Math.round(y) };
    this.element.setAttribute("transform", `translate(${this.at.x} ${this.at.y})`);
    this.field("x").value = metres(this.at.x);
    this.field("y").value = metres(-this.at.y);
  }

  turn(byDeg) {
    const field = this.field("facing");
    if (!field) return;
    const facing = (((Number(field.value) || 0) + byDeg) % 360 + 360) % 360;
    field.value = String(facing);
    this.facing.setAttribute("transform", `rotate(${facing})`);
  }
}

function listen(plan, thing) {
  const { element } = thing;
  element.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const [right, down] = MOVES[event.key] ?? [];
    if (right === undefined && !(event.key in TURNS)) return;
    event.preventDefault();
    if (right !== undefined) thing.put(thing.at.x + right * STEP_CM, thing.at.y + down * STEP_CM);
    else thing.turn(TURNS[event.key] * TURN_DEG);
  });
  element.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    element.querySelector("[role=button]").focus({ preventScroll: true });
    element.setPointerCapture(event.pointerId);
    const start = onPlan(plan, event);
    const from = { ...thing.at };
    const drag = (moved) => {
      const here = onPlan(plan, moved);
      thing.put(from.x + here.x - start.x, from.y + here.y - start.y);
    };
    element.addEventListener("pointermove", drag);
    for (const end of ["pointerup", "pointercancel"]) {
      element.addEventListener(end, () => element.removeEventListener("pointermove", drag), { once: true });
    }
  });
}

function onPlan(plan, event) {
  return new DOMPoint(event.clientX, event.clientY).matrixTransform(plan.getScreenCTM().inverse());
}

function metres(centimetres) {
  return (centimetres / 100).toFixed(2).replace(/\.?0+$/, "").replace("-", "\u2212");
}
