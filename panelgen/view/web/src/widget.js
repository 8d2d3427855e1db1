// The adapter for a notebook: messages come from Python, what a person does goes back as traits.

import { mount } from "./mount.js";

/** Mount a view for a widget model; returns what to call when the view goes away. */
export function render({ model, el }) {
  const place = document.createElement("div");
  place.style.height = `${model.get("height")}px`;
  el.append(place);
  const controller = mount(place, { theme: model.get("theme") });
  const { view } = controller;
  const tell = () => {
    model.set({ picked: view.state.selected ?? "", panel: view.state.open ?? "", finding: view.state.finding });
    model.save_changes();
  };
  const take = (message, buffers) => {
    if (message.kind === "payload") controller.update(message.head, buffers);
  };
  const follow = {
    "msg:custom": take,
    "change:panel": () => view.open(model.get("panel") || null),
    "change:picked": () => {
      if (model.get("picked") !== (view.state.selected ?? ""))
        view.select(view.house.find(model.get("picked"))[0] ?? null);
    },
    "change:theme": () => {
      if (model.get("theme") !== "auto") view.setTheme(model.get("theme"));
    },
    "change:height": () => {
      place.style.height = `${model.get("height")}px`;
    },
  };
  for (const [event, act] of Object.entries(follow)) model.on(event, act);
  for (const event of ["open", "pick", "finding"]) view.addEventListener(event, tell);
  place.controller = controller;
  model.send({ kind: "ready" });
  return () => {
    for (const [event, act] of Object.entries(follow)) model.off(event, act);
    controller.dispose();
  };
}
