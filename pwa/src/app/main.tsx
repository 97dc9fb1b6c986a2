// Start: the one entry of the page.

import { render } from "preact";

const root = document.getElementById("app");
if (root) render(<h1>sporeline</h1>, root);
