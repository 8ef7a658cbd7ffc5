import type { PanelParams } from '../../protocol/messages/panel.ts';
import type { PanelData } from '../../protocol/panel/panelData.ts';
import type { PanelView } from '../../protocol/panel/views.ts';
import type { PanelNames } from '../../reports/panel/panelNames.ts';
import type { AnswerDay } from '../../queries/answerDay.ts';
import type { ModelInput } from '../../queries/modelInput.ts';
import type { Project } from '../../workspace/project.ts';
import type { RunnerFiles } from '../../workspace/runnerFiles.ts';
import type { PanelReports } from '../estimates/panelReports.ts';

/** The parts of the panel's data that its views fill in, one view each. */
export type Sections = Pick<PanelData, PanelView | 'pending' | 'more' | 'message' | 'remedies' | 'broken'>;

/** A panel with nothing to show. */
export const emptySections: Sections = {
  week: null,
  ranking: null,
  curve: null,
  odds: null,
  review: null,
  after: null,
  pending: null,
  more: false,
  message: null,
  remedies: [],
  broken: null,
};

/** What a section is computed from. */
export interface SectionInput {
  readonly reports: PanelReports;
  readonly project: Project;
  readonly own: RunnerFiles;
  readonly modelInput: ModelInput;
  readonly answerDay: AnswerDay;
  readonly names: PanelNames;
  readonly params: PanelParams;
}
