// The canvas: renderer, the two cameras, orbiting, and drawing only when something changed.

import {
  Box3,
  Color,
  Group,
  OrthographicCamera,
  PerspectiveCamera,
  Scene,
  Sphere,
  Vector3,
  Vector4,
  WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { SightRay } from "./ray.js";

const FIELD = 32; // degrees
const MARGIN = 1.08;
const FLIGHT = 320; // ms
const ROUNDS = 5; // to centre what is seen
const LEAN = 1e-4; // from straight up or down, where there is no telling which way is up

export class Stage {
  constructor(place, { animate = true, onframe = () => {} } = {}) {
    this.place = place;
    this.onframe = onframe;
    this.animate = animate && !matchMedia("(prefers-reduced-motion: reduce)").matches;
    this.renderer = new WebGLRenderer({ antialias: true, stencil: true });
    this.renderer.debug.checkShaderErrors = false; // asking would wait for each shader in turn
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.canvas = this.renderer.domElement;
    place.prepend(this.canvas);
    this.scene = new Scene();
    this.root = new Group();
    this.root.matrixAutoUpdate = false;
    this.overlay = new Group();
    this.scene.add(this.root, this.overlay);
    this.shared = { uHalfHeight: { value: 1 }, uPlane: { value: new Vector4(0, 0, 0, 1) } };
    this.perspective = new PerspectiveCamera(FIELD, 1, 1, 1e5);
    this.orthographic = new OrthographicCamera(-1, 1, 1, -1, -1e5, 1e5);
    this.camera = this.perspective;
    this.bounds = new Box3(new Vector3(-500, -500, -500), new Vector3(500, 500, 500));
    this.target = new Vector3();
    this.#orbit();
    this.frames = 0;
    this.watch = new ResizeObserver(() => this.resize());
    this.watch.observe(place);
    this.resize();
  }

  get height() {
    return this.place.clientHeight || 1;
  }

  /** Ask for a new picture. */
  invalidate() {
    if (!this.asked) this.asked = requestAnimationFrame((now) => this.#frame(now));
  }

  resize() {
    const { clientWidth: width, clientHeight: height } = this.place;
    if (!width || !height) return;
    this.renderer.setSize(width, height, false);
    this.shared.uHalfHeight.value = (height * this.renderer.getPixelRatio()) / 2;
    this.#project(width / height);
    this.invalidate();
  }

  setSky(colour) {
    this.scene.background = new Color(colour);
    this.invalidate();
  }

  setProjection(orthographic) {
    const from = this.camera;
    const next = orthographic ? this.orthographic : this.perspective;
    if (next === from) return;
    const away = from.position.distanceTo(this.target);
    const direction = from.position.clone().sub(this.target).normalize();
    const half = Math.tan((FIELD * Math.PI) / 360);
    if (orthographic) {
      this.orthographic.userData.half = away * half;
      next.zoom = 1;
      next.position.copy(from.position);
    } else {
      next.position.copy(this.target).addScaledVector(direction, from.userData.half / from.zoom / half);
    }
    this.camera = next;
    this.#orbit();
    this.resize();
  }

  /** Look at a box from a direction (from the target to the camera), so that it just fits. */
  look(direction, box, now = false) {
    const from = new Vector3(...direction).normalize();
    if (Math.hypot(from.x, from.z) < LEAN) from.z += LEAN;
    const target = box.getCenter(new Vector3());
    const half = Math.tan((FIELD * Math.PI) / 360);
    const aspect = this.place.clientWidth / this.height || 1;
    const right = new Vector3(0, 1, 0).cross(from).normalize();
    const up = from.clone().cross(right);
    const corners = cornersOf(box)
      .map((corner) => corner.sub(target))
      .map((corner) => [right, up, from].map((axis) => corner.dot(axis)));
    const tall = Math.max(1, ...corners.map(([x, y]) => Math.max(Math.abs(y), Math.abs(x) / aspect)));
    let { away, aside, above } =
      this.camera === this.perspective ? fitted(corners, half, aspect) : { away: 1, aside: 0, above: 0 };
    target.addScaledVector(right, aside).addScaledVector(up, above);
    this.orthographic.userData.half = tall * MARGIN;
    this.orthographic.zoom = 1;
    if (this.camera === this.orthographic) {
      away = this.bounds.getBoundingSphere(new Sphere()).radius * 3;
      this.#project(aspect);
    }
    this.#fly(target.clone().addScaledVector(from, away * MARGIN), target, now);
  }

  /** The direction from the target to the camera. */
  get direction() {
    return this.camera.position.clone().sub(this.target).normalize().toArray();
  }

  /** The line of sight through a point of the page. */
  ray(clientX, clientY, plane) {
    const box = this.canvas.getBoundingClientRect();
    const x = ((clientX - box.left) / box.width) * 2 - 1;
    const y = 1 - ((clientY - box.top) / box.height) * 2;
    this.#depths();
    this.camera.updateMatrixWorld();
    return SightRay.through(this.camera, x, y, plane, this.height);
  }

  /** Where a point (world) is on the canvas, in pixels from its top left; null behind the camera. */
  onScreen(point) {
    const seen = point.clone().project(this.camera);
    if (seen.z > 1 || seen.z < -1) return null;
    return [((seen.x + 1) / 2) * this.place.clientWidth, ((1 - seen.y) / 2) * this.height];
  }

  /** Whether all of a box (world) is on the canvas. */
  sees(box) {
    this.camera.updateMatrixWorld();
    return cornersOf(box).every((corner) => {
      const { x, y } = corner.project(this.camera);
      return Math.max(Math.abs(x), Math.abs(y)) <= 1;
    });
  }

  /** Turn, slide or come nearer by keys: radians, pixels and a factor. */
  nudge({ turn = 0, tilt = 0, right = 0, up = 0, zoom = 1 }) {
    const offset = this.camera.position.clone().sub(this.target);
    const reach = offset.length();
    const around = Math.atan2(offset.x, offset.z) + turn;
    const down = Math.min(Math.PI - 1e-3, Math.max(1e-3, Math.acos(offset.y / reach) + tilt));
    const away = this.camera === this.perspective ? reach / zoom : reach;
    if (this.camera === this.orthographic) this.camera.zoom *= zoom;
    offset.setFromSphericalCoords(away, down, around);
    const { matrix } = this.camera;
    const slide = new Vector3()
      .setFromMatrixColumn(matrix, 0)
      .multiplyScalar(right)
      .add(new Vector3().setFromMatrixColumn(matrix, 1).multiplyScalar(up))
      .multiplyScalar(reach / 1000);
    this.target.add(slide);
    this.camera.position.copy(this.target).add(offset);
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.invalidate();
  }

  /** Draw at once. */
  draw() {
    this.#depths();
    this.renderer.render(this.scene, this.camera);
    this.frames += 1;
    this.onframe();
  }

  /** Draw at once, with an image in place of the canvas: it is there however long drawing takes. */
  freeze() {
    this.draw();
    const image = new Image();
    image.src = this.canvas.toDataURL();
    this.canvas.replaceWith(image);
  }

  dispose() {
    cancelAnimationFrame(this.asked);
    this.watch.disconnect();
    this.controls.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
    this.canvas.remove();
  }

  #frame(now) {
    this.asked = 0;
    if (this.flight) this.#step(now);
    this.draw();
  }

  #fly(position, target, now) {
    if (now || !this.animate) {
      this.flight = null;
      this.camera.position.copy(position);
      this.target.copy(target);
      this.controls.update();
    } else {
      this.flight = {
        start: performance.now(),
        from: this.camera.position.clone(),
        aim: this.target.clone(),
        position,
        target,
      };
    }
    this.invalidate();
  }

  #step(now) {
    const { start, from, aim, position, target } = this.flight;
    const share = Math.min(1, Math.max(0, (now - start) / FLIGHT));
    const eased = share * share * (3 - 2 * share);
    this.camera.position.lerpVectors(from, position, eased);
    this.target.lerpVectors(aim, target, eased);
    if (share === 1) this.flight = null;
    this.controls.update();
    this.invalidate();
  }

  #project(aspect) {
    this.perspective.aspect = aspect;
    this.perspective.updateProjectionMatrix();
    const half = this.orthographic.userData.half ?? 1000;
    Object.assign(this.orthographic, { left: -half * aspect, right: half * aspect, top: half, bottom: -half });
    this.orthographic.updateProjectionMatrix();
  }

  #depths() {
    const { center, radius } = this.bounds.getBoundingSphere(new Sphere());
    const away = this.camera.position.distanceTo(center);
    if (this.camera === this.perspective) {
      this.camera.near = Math.max(away - radius * 1.5, radius / 500, 1);
      this.camera.far = away + radius * 1.5;
    } else {
      this.camera.near = away - radius * 4;
      this.camera.far = away + radius * 4;
    }
    this.camera.updateProjectionMatrix();
  }

  #orbit() {
    this.controls?.dispose();
    this.controls = new OrbitControls(this.camera, this.canvas);
    this.controls.target = this.target;
    this.controls.zoomToCursor = true;
    this.controls.addEventListener("change", () => this.invalidate());
    this.controls.addEventListener("start", () => {
      this.flight = null;
    });
    this.controls.update();
  }
}

/** How far away, and how far aside and above the middle, a perspective camera sees all corners [x, y, z] centred. */
function fitted(corners, half, aspect) {
  let away = 1;
  let aside = 0;
  let above = 0;
  for (let round = 0; round < ROUNDS; round++) {
    away = Math.max(
      1,
      ...corners.map(([x, y, z]) => z + Math.max(Math.abs(y - above), Math.abs(x - aside) / aspect) / half),
    );
    const middle = (shares) => (Math.min(...shares) + Math.max(...shares)) / 2;
    aside += away * middle(corners.map(([x, , z]) => (x - aside) / (away * MARGIN - z)));
    above += away * middle(corners.map(([, y, z]) => (y - above) / (away * MARGIN - z)));
  }
  return { away, aside, above };
}

function cornersOf({ min, max }) {
  return [min.x, max.x].flatMap((x) => [min.y, max.y].flatMap((y) => [min.z, max.z].map((z) => new Vector3(x, y, z))));
}
