/** Components are written as tagged templates: this binds htm to preact, and is the only door to both. */
import { h, render } from "./vendor/preact-11.2.0.js";
import htm from "./vendor/htm-3.1.1.js";

export { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from "./vendor/preact-hooks-11.2.0.js";
export { render };
/** @type {(strings: TemplateStringsArray, ...values: any[]) => any} */
export const html = /** @type {any} */ (htm).bind(h);
