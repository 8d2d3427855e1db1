// The adapter for a notebook: messages come from Python, what a person does goes back as traits and messages.

import { mount } from "./mount.js";

/** Mount a view for a widget model; returns what to call when the view goes away. */
export function render({ model, el }) {
  const place = document.createElement("div");
  place.style.height = `${model.get("height")}px`;
  el.append(place);
  const controller = mount(place, { theme: model.get("theme") });
  const { view } = controller;
  let isTaking = false;
  const tell = () => {
    if (isTaking || !view.store.house) return;
    const now = {
      picked: view.state.selected ?? "",
      panel: view.state.open ?? "",
      finding: view.state.finding,
      hidden_layers: view.hidden,
      theme: controller.theme,
    };
    const news = Object.entries(now).filter(([name, value]) => String(model.get(name)) !== String(value));
    if (!news.length) return;
    model.set(Object.fromEntries(news));
    model.save_changes();
  };
  const follow = {
    "msg:custom": (message, buffers) => {
      if (message.kind !== "payload") return;
      const isFirst = !view.store.house;
      isTaking = true;
      controller.update(message.head, buffers);
      if (isFirst) for (const act of Object.values(traits)) act();
      isTaking = false;
      tell();
    },
    "change:theme": () => controller.setTheme(model.get("theme")),
    "change:acts": () => controller.setAct(model.get("acts") ? (message) => model.send(message) : null),
    "change:height": () => {
      place.style.height = `${model.get("height")}px`;
    },
  };
  // What Python set before there was anything to show is taken up with the first content.
  const traits = {
    "change:panel": () => view.open(model.get("panel") || null),
    "change:finding": () => {
      if (model.get("finding") !== view.state.finding) view.flyTo(model.get("finding"));
    },
    "change:picked": () => {
      if (model.get("picked") !== (view.state.selected ?? ""))
        view.select(view.house.find(model.get("picked"))[0] ?? null);
    },
    "change:hidden_layers": () => view.setHidden(model.get("hidden_layers")),
  };
  const heard = Object.entries({ ...follow, ...traits });
  for (const [event, act] of heard) model.on(event, act);
  for (const event of ["open", "pick", "finding", "state"]) view.addEventListener(event, tell);
  follow["change:acts"]();
  place.controller = controller;
  model.send({ kind: "ready" });
  return () => {
    for (const [event, act] of heard) model.off(event, act);
    controller.dispose();
  };
}
