import { editorHost } from './host.ts';
import { Panel } from './panel.ts';

const root = document.getElementById('panel');
if (root) new Panel(root, editorHost()).start();
