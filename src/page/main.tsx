// page: the document's #app → the bench.
import { render } from "preact";
import { App } from "./app.js";
import "./theme.css";
import "./controls.css";
import "./shell.css";
import "./frames/frames.css";
import "./answer/answer.css";
import "./attempts/attempts.css";
import "./readings/readings.css";
import "./draw/draw.css";
import { sendDraftsOnLeaving } from "./state/draft.js";
import { followAddress } from "./state/route.js";
import { listenToServer } from "./state/server-events.js";
import { followTheme } from "./state/settings.js";
import { askBeforeLeaving } from "./state/uploads.js";

followTheme();
followAddress();
listenToServer();
sendDraftsOnLeaving();
askBeforeLeaving();
const root = document.getElementById("app");
if (root === null) throw new Error("the document has no #app");
render(<App />, root);
