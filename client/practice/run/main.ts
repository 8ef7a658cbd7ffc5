import { editorHost } from './host.ts';
import { RunView } from './runView.ts';

new RunView(editorHost()).start();
