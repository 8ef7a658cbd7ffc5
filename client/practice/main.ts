import { editorHost } from './host.ts';
import { PracticeView } from './practiceView.ts';

new PracticeView(editorHost()).start();
