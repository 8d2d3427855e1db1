// The two themes as colours for the scene; the page takes its own from css/.

import { Color, SRGBColorSpace } from "three";

export const THEMES = {
  light: { sky: "#f4f6f8", ink: "#2b3036", edge: "#14181d", glass: "#7fa6bf", pick: "#111418", hover: "#5b6470" },
  dark: { sky: "#15191e", ink: "#cfd6de", edge: "#05070a", glass: "#8fb7d1", pick: "#ffffff", hover: "#aab4c0" },
};

/** The colour of a layer in a theme: ink where the palette says black, so that it shows on both. */
export function layerColour(layer, theme) {
  const [r, g, b] = layer.colour;
  if (r + g + b === 0) return new Color(THEMES[theme].ink);
  return new Color().setRGB(r / 255, g / 255, b / 255, SRGBColorSpace);
}

/** As text for the page. */
export function cssColour(layer, theme) {
  return `#${layerColour(layer, theme).getHexString()}`;
}
