import { editorHost } from './host.ts';
import { PracticeView } from './view.ts';

new PracticeView(editorHost()).start();
