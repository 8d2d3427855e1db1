// Fetches the bundle from Python once a page, however many views there are, and hands over to it.

const NAME = "panelgen-view-bundle";

function fetched(model) {
  globalThis[NAME] ??= new Promise((resolve) => {
    const take = (message, [code]) => {
      if (message.kind !== "bundle") return;
      model.off("msg:custom", take);
      resolve(import(URL.createObjectURL(new Blob([code], { type: "text/javascript" }))));
    };
    model.on("msg:custom", take);
    model.send({ kind: "bundle" });
  });
  return globalThis[NAME];
}

async function render({ model, el }) {
  const view = await fetched(model);
  return view.render({ model, el });
}

export default { render };
