// Materials: one set for each layer, so that a layer is made a ghost, cut or recoloured at once.

import {
  AlwaysStencilFunc,
  BackSide,
  Color,
  DecrementWrapStencilOp,
  DoubleSide,
  FrontSide,
  IncrementWrapStencilOp,
  NotEqualStencilFunc,
  ReplaceStencilOp,
  ShaderMaterial,
} from "three";

const OFFSET = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
const GHOST = 0.1;
const PANE = 0.3;

const FADE = /* glsl */ `
  uniform float uHalfHeight;
  float pixelsPerMm(vec4 place) { return projectionMatrix[1][1] * uHalfHeight / place.w; }
`;

// How far a place is on the shown side of the section plane. Where a face is seen edge-on, its samples lie beside the
// middle of the pixel: only centroids are surely on the face.
const CUT = /* glsl */ `
  uniform vec4 uPlane;
  centroid varying float vHeight;
`;

// Light from the upper left in front and, weaker, from behind, fixed to the axes: no face is black, no two alike.
const SOLID_VERTEX = /* glsl */ `
  ${CUT}
  #ifndef USE_INSTANCING
    attribute vec3 color;
  #endif
  varying vec3 vColour;
  const vec3 SUN = vec3(-0.318, 0.635, 0.706);
  const vec3 SKY = vec3(0.427, 0.299, -0.853);
  void main() {
    vec4 local = vec4(position, 1.0);
    vec3 facing = normal;
    #ifdef USE_INSTANCING
      local = instanceMatrix * local;
      mat3 turn = mat3(instanceMatrix);
      facing = turn * (facing / vec3(dot(turn[0], turn[0]), dot(turn[1], turn[1]), dot(turn[2], turn[2])));
      vColour = instanceColor;
    #else
      vColour = color;
    #endif
    facing = normalize(mat3(modelMatrix) * facing);
    vColour *= 0.49 + 0.54 * max(0.0, dot(facing, SUN)) + 0.24 * max(0.0, dot(facing, SKY));
    gl_Position = projectionMatrix * modelViewMatrix * local;
    vHeight = dot(uPlane, modelMatrix * local);
  }
`;

const SOLID_FRAGMENT = /* glsl */ `
  ${CUT}
  uniform float uOpacity;
  varying vec3 vColour;
  void main() {
    if (vHeight < 0.0) discard;
    gl_FragColor = vec4(vColour, uOpacity);
    #include <colorspace_fragment>
  }
`;

const EDGE_VERTEX = /* glsl */ `
  ${CUT}
  ${FADE}
  #ifdef PLACED
    attribute mat4 placement;
  #endif
  varying float vShare;
  float share(vec4 place) { return smoothstep(0.7, 5.0, abs(pixelsPerMm(place)) * 38.0); }
  void main() {
    vec4 local = vec4(position, 1.0);
    vec4 anchor = vec4(0.0, 0.0, 0.0, 1.0);
    #ifdef PLACED
      local = placement * local;
      anchor = placement * vec4(0.5, 0.5, 0.5, 1.0);
    #endif
    gl_Position = projectionMatrix * modelViewMatrix * local;
    vHeight = dot(uPlane, modelMatrix * local);
    vShare = share(gl_Position);
    // both ends of an edge are left out or neither, so that none is drawn to where the other was put away
    if (share(projectionMatrix * modelViewMatrix * anchor) < 0.02) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
  }
`;

const EDGE_FRAGMENT = /* glsl */ `
  ${CUT}
  uniform vec3 uColour;
  uniform float uOpacity;
  varying float vShare;
  void main() {
    if (vHeight < 0.0) discard;
    gl_FragColor = vec4(uColour, uOpacity * vShare);
    #include <colorspace_fragment>
  }
`;

const HEAD_VERTEX = /* glsl */ `
  #define NEARER 2.0 // mm in front of the face that a head is flush with
  ${CUT}
  ${FADE}
  attribute float head;
  attribute vec3 color;
  varying vec3 vColour;
  varying float vShare;
  void main() {
    gl_Position = projectionMatrix * (modelViewMatrix * vec4(position, 1.0) + vec4(0.0, 0.0, NEARER, 0.0));
    vHeight = dot(uPlane, modelMatrix * vec4(position, 1.0));
    float size = pixelsPerMm(gl_Position) * head;
    vShare = smoothstep(0.35, 1.6, size);
    vColour = color;
    gl_PointSize = max(size, 1.5);
    if (vShare < 0.02) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
  }
`;

const HEAD_FRAGMENT = /* glsl */ `
  ${CUT}
  uniform float uOpacity;
  varying vec3 vColour;
  varying float vShare;
  void main() {
    if (vHeight < 0.0) discard;
    if (distance(gl_PointCoord, vec2(0.5)) > 0.5) discard;
    gl_FragColor = vec4(vColour, uOpacity * vShare);
    #include <colorspace_fragment>
  }
`;

const STENCIL_VERTEX = /* glsl */ `
  ${CUT}
  void main() {
    vec4 local = vec4(position, 1.0);
    #ifdef USE_INSTANCING
      local = instanceMatrix * local;
    #endif
    gl_Position = projectionMatrix * modelViewMatrix * local;
    vHeight = dot(uPlane, modelMatrix * local);
  }
`;

const STENCIL_FRAGMENT = /* glsl */ `
  ${CUT}
  void main() {
    if (vHeight < 0.0) discard;
    gl_FragColor = vec4(1.0);
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
    this.fill = solid(shared, 1);
    this.pane = solid(shared, PANE);
    this.placedEdge = edges(shared, { PLACED: "" });
    this.edge = edges(shared, {});
    this.head = new ShaderMaterial({
      uniforms: { ...shared, uOpacity: { value: 1 } },
      vertexShader: HEAD_VERTEX,
      fragmentShader: HEAD_FRAGMENT,
      transparent: true,
    });
    this.back = stencil(shared, BackSide, IncrementWrapStencilOp);
    this.front = stencil(shared, FrontSide, DecrementWrapStencilOp);
    this.cap = new ShaderMaterial({
      uniforms: { uColour: { value: new Color() }, uHatch: { value: hatch ? 1 : 0 } },
      vertexShader: CAP_VERTEX,
      fragmentShader: CAP_FRAGMENT,
      side: DoubleSide,
      stencilWrite: true,
      stencilRef: 0,
      stencilFunc: NotEqualStencilFunc,
      stencilFail: ReplaceStencilOp,
      stencilZFail: ReplaceStencilOp,
      stencilZPass: ReplaceStencilOp,
      ...OFFSET,
    });
  }

  setGhost(on) {
    this.fill.transparent = on;
    this.fill.depthWrite = !on;
    this.fill.uniforms.uOpacity.value = on ? GHOST : 1;
    this.pane.uniforms.uOpacity.value = on ? GHOST : PANE;
    for (const material of [this.edge, this.placedEdge]) material.uniforms.uOpacity.value = on ? 0.22 : 0.8;
    this.head.uniforms.uOpacity.value = on ? 0.25 : 1;
  }

  setColours(layer, edge) {
    this.cap.uniforms.uColour.value.copy(layer);
    for (const material of [this.edge, this.placedEdge]) material.uniforms.uColour.value.set(edge);
  }

  dispose() {
    for (const material of Object.values(this)) material.dispose();
  }
}

function solid(shared, opacity) {
  return new ShaderMaterial({
    uniforms: { ...shared, uOpacity: { value: opacity } },
    vertexShader: SOLID_VERTEX,
    fragmentShader: SOLID_FRAGMENT,
    transparent: opacity < 1,
    depthWrite: opacity === 1,
    ...OFFSET,
  });
}

function edges(shared, defines) {
  return new ShaderMaterial({
    uniforms: { ...shared, uColour: { value: new Color() }, uOpacity: { value: 0.8 } },
    vertexShader: EDGE_VERTEX,
    fragmentShader: EDGE_FRAGMENT,
    defines,
    transparent: true,
    depthWrite: false,
  });
}

function stencil(shared, side, op) {
  return new ShaderMaterial({
    uniforms: shared,
    vertexShader: STENCIL_VERTEX,
    fragmentShader: STENCIL_FRAGMENT,
    side,
    colorWrite: false,
    depthWrite: false,
    depthTest: false,
    stencilWrite: true,
    stencilFunc: AlwaysStencilFunc,
    stencilFail: op,
    stencilZFail: op,
    stencilZPass: op,
  });
}
