import type { PanelParams } from '../../protocol/messages/panel.ts';
import type { PanelData } from '../../protocol/panel/panelData.ts';
import type { PanelView } from '../../protocol/panel/views.ts';
import type { PanelNames } from '../../reports/panel/panelNames.ts';
import type { AnswerDay, DayChoice } from '../../queries/answerDay.ts';
import type { Refusal } from '../../protocol/refusal.ts';
import type { ComparedRoute } from '../../reports/compare/comparison.ts';
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
  progress: null,
  after: null,
  compare: null,
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
  /** The day that answers are for, before it is known whose files they are about. */
  readonly day: DayChoice;
  /** The route that the panel's is compared with; undefined where none is, or where it is not read yet. */
  readonly compared: ComparedRoute | Refusal | undefined;
  readonly params: PanelParams;
}
