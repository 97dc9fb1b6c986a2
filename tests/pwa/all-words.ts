import { chapters, learn } from "../../pwa/src/parts/catalogue";

await learn(chapters);
