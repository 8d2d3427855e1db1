// Materials: one set for each layer, so that a layer is made a ghost, cut or recoloured at once.

import {
  AlwaysStencilFunc, BackSide, Color, DecrementWrapStencilOp, DoubleSide, FrontSide, IncrementWrapStencilOp,
  MeshBasicMaterial, MeshLambertMaterial, NotEqualStencilFunc, ReplaceStencilOp, ShaderMaterial,
} from "three";

const GHOST = 0.1;
const PANE = 0.3;

const FADE = /* glsl */ `
  uniform float uHalfHeight;
  float pixelsPerMm(vec4 place) { return projectionMatrix[1][1] * uHalfHeight / place.w; }
`;

const EDGE_VERTEX = /* glsl */ `
  #include <clipping_planes_pars_vertex>
  ${FADE}
  #ifdef PLACED
    attribute mat4 placement;
  #endif
  varying float vShare;
  void main() {
    vec4 local = vec4(position, 1.0);
    #ifdef PLACED
      local = placement * local;
    #endif
    vec4 mvPosition = modelViewMatrix * local;
    gl_Position = projectionMatrix * mvPosition;
    vShare = smoothstep(0.7, 5.0, pixelsPerMm(gl_Position) * 38.0);
    if (vShare < 0.02) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    #include <clipping_planes_vertex>
  }
`;

const EDGE_FRAGMENT = /* glsl */ `
  #include <clipping_planes_pars_fragment>
  uniform vec3 uColour;
  uniform float uOpacity;
  varying float vShare;
  void main() {
    #include <clipping_planes_fragment>
    gl_FragColor = vec4(uColour, uOpacity * vShare);
    #include <colorspace_fragment>
  }
`;

const HEAD_VERTEX = /* glsl */ `
  #define NEARER 2.0 // mm in front of the face that a head is flush with
  #include <clipping_planes_pars_vertex>
  ${FADE}
  attribute float head;
  attribute vec3 color;
  varying vec3 vColour;
  varying float vShare;
  void main() {
    vec4 mvPosition = modelViewMatrix * vec4(position, 1.0);
    gl_Position = projectionMatrix * (mvPosition + vec4(0.0, 0.0, NEARER, 0.0));
    float size = pixelsPerMm(gl_Position) * head;
    vShare = smoothstep(0.35, 1.6, size);
    vColour = color;
    gl_PointSize = max(size, 1.5);
    if (vShare < 0.02) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    #include <clipping_planes_vertex>
  }
`;

const HEAD_FRAGMENT = /* glsl */ `
  #include <clipping_planes_pars_fragment>
  uniform float uOpacity;
  varying vec3 vColour;
  varying float vShare;
  void main() {
    #include <clipping_planes_fragment>
    if (distance(gl_PointCoord, vec2(0.5)) > 0.5) discard;
    gl_FragColor = vec4(vColour, uOpacity * vShare);
    #include <colorspace_fragment>
  }
`;

const CAP_FRAGMENT = /* glsl */ `
  uniform vec3 uColour;
  uniform float uHatch;
  void main() {
    float stripe = step(0.8, fract((gl_FragCoord.x + gl_FragCoord.y) / 9.0));
    gl_FragColor = vec4(mix(uColour, uColour * 0.35, uHatch * stripe), 1.0);
    #include <colorspace_fragment>
  }
`;

const CAP_VERTEX = /* glsl */ `
  void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }
`;

/** The materials of one layer. */
export class LayerMaterials {
  constructor(shared, hatch) {
    const offset = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
    this.fill = new MeshLambertMaterial(offset);
    this.meshFill = new MeshLambertMaterial({ ...offset, vertexColors: true });
    this.pane = new MeshLambertMaterial({ ...offset, transparent: true, opacity: PANE, depthWrite: false });
    this.placedEdge = edges(shared, { PLACED: "" });
    this.edge = edges(shared, {});
    this.head = new ShaderMaterial({
      uniforms: { ...shared, uOpacity: { value: 1 } }, vertexShader: HEAD_VERTEX, fragmentShader: HEAD_FRAGMENT,
      transparent: true, clipping: true,
    });
    this.back = stencil(BackSide, IncrementWrapStencilOp);
    this.front = stencil(FrontSide, DecrementWrapStencilOp);
    this.cap = new ShaderMaterial({
      uniforms: { uColour: { value: new Color() }, uHatch: { value: hatch ? 1 : 0 } },
      vertexShader: CAP_VERTEX, fragmentShader: CAP_FRAGMENT, side: DoubleSide, stencilWrite: true, stencilRef: 0,
      stencilFunc: NotEqualStencilFunc, stencilFail: ReplaceStencilOp, stencilZFail: ReplaceStencilOp,
      stencilZPass: ReplaceStencilOp, ...offset,
    });
  }

  /** Every material that the section plane cuts. */
  get cut() {
    return [this.fill, this.meshFill, this.pane, this.placedEdge, this.edge, this.head, this.back, this.front];
  }

  setGhost(on) {
    for (const material of [this.fill, this.meshFill]) {
      material.transparent = on;
      material.opacity = on ? GHOST : 1;
      material.depthWrite = !on;
      material.needsUpdate = true;
    }
    this.pane.opacity = on ? GHOST : PANE;
    for (const material of [this.edge, this.placedEdge]) material.uniforms.uOpacity.value = on ? 0.22 : 0.8;
    this.head.uniforms.uOpacity.value = on ? 0.25 : 1;
  }

  setColours(layer, edge) {
    this.cap.uniforms.uColour.value.copy(layer);
    for (const material of [this.edge, this.placedEdge]) material.uniforms.uColour.value.set(edge);
  }

  setPlanes(planes) {
    for (const material of this.cut) {
      material.clippingPlanes = planes;
      material.needsUpdate = true;
    }
  }

  dispose() {
    for (const material of [...this.cut, this.cap]) material.dispose();
  }
}

function edges(shared, defines) {
  return new ShaderMaterial({
    uniforms: { ...shared, uColour: { value: new Color() }, uOpacity: { value: 0.8 } },
    vertexShader: EDGE_VERTEX, fragmentShader: EDGE_FRAGMENT, defines, transparent: true, clipping: true,
    depthWrite: false,
  });
}

function stencil(side, op) {
  return new MeshBasicMaterial({
    side, colorWrite: false, depthWrite: false, depthTest: false, stencilWrite: true, stencilFunc: AlwaysStencilFunc,
    stencilFail: op, stencilZFail: op, stencilZPass: op,
  });
}
