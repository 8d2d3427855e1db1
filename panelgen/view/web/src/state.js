// What a view shows, as plain values.

/** The state of a view. */
export function stateOf({ house, hover, step, section, orthographic, stage, theme, measure, findings, made }) {
  return {
    panels: [...house.panels.keys()],
    open: house.open,
    selected: house.selected?.id ?? null,
    hovered: hover?.id ?? null,
    involved: house.involved.map((part) => part.id),
    layers: Object.fromEntries([...house.modes.keys()].map((layer) => [layer, house.mode(layer)])),
    explode: house.explode,
    step,
    steps: house.steps,
    section: { axis: section.axis, share: section.share, flipped: section.flipped },
    orthographic,
    direction: stage.direction,
    theme,
    measuring: measure.active,
    measured: measure.result,
    findings: findings.byKey.size,
    finding: findings.chosen,
    frames: stage.frames,
    made,
    calls: stage.renderer.info.render.calls,
  };
}
