/** Starts the page. */
import { mount } from "svelte";
import "./look/tokens.css";
import "./look/base.css";
import "./look/parts.css";
import "./look/views.css";
import "./look/tools.css";
import "./look/fall.css";
import "./look/picture.css";
import "./look/inspect.css";
import "./look/read.css";
import App from "./App.svelte";
import { prefs } from "./state/prefs.svelte";

prefs.apply();
const target = document.getElementById("app");
if (target) mount(App, { target });
