import type { PublishDiagnosticsParams } from 'vscode-languageserver';
import type { Moment } from '../../text/calendar.ts';
import type { FileSource } from '../../workspace/fileSource.ts';
import type { Project } from '../../workspace/project.ts';
import { Workspace } from '../../workspace/workspace.ts';
import type { WorkWatch } from '../../workspace/workWatch.ts';
import { CheckScheduler, type CheckEvents } from '../checking/checkScheduler.ts';
import { DiagnosticsPublisher } from '../checking/diagnostics.ts';
import { FindingStore } from '../checking/findingStore.ts';
import type { ClientFeatures } from '../documents/clientFeatures.ts';
import type { FileServices } from '../documents/fileServices.ts';
import { OpenDocuments } from '../documents/openDocuments.ts';
import { PositionConverter } from '../documents/positionConverter.ts';
import { WorkspaceSync } from '../documents/workspaceSync.ts';
import { LastMentions } from '../editing/lastMentions.ts';
import { RouteHints } from '../editing/routeHints.ts';
import { Estimates } from '../estimates/estimates.ts';
import { FirstEstimates } from '../estimates/firstEstimates.ts';
import { InlineEstimates, type RouteEstimates } from '../estimates/inlineEstimates.ts';
import { PanelReports } from '../estimates/panelReports.ts';
import { RouteStores } from '../estimates/routeStore.ts';
import { TechniqueEstimators } from '../estimates/techniqueEstimators.ts';

export interface ServiceOptions {
  /** Reads files that the client has not opened. */
  readonly source: FileSource;
  readonly client: ClientFeatures;
  readonly publish: (params: PublishDiagnosticsParams) => void;
  readonly events: CheckEvents;
  /** Learns which file is worked on. */
  readonly watch?: WorkWatch;
  /** The date and time of day on the server's clock, for a client that does not send its own. */
  readonly now: () => Moment;
}

/** All services that the features of one client share. Each feature names the few of these that it uses. */
export interface Services extends FileServices {
  readonly client: ClientFeatures;
  readonly sync: WorkspaceSync;
  readonly estimates: Estimates;
  readonly inlineEstimates: InlineEstimates;
  readonly inlineEstimatesOf: (project: Project) => RouteEstimates | undefined;
  readonly firstEstimates: FirstEstimates;
  readonly techniqueEstimators: TechniqueEstimators;
  readonly panelReports: PanelReports;
  readonly findings: FindingStore;
  readonly checks: CheckScheduler;
  readonly mentions: LastMentions;
  readonly routeHints: RouteHints;
}

/** Creates the services of one client, each after those that it needs. */
export function createServices({ source, client, publish, events, watch, now }: ServiceOptions): Services {
  // The files.
  const workspace = new Workspace(source, [], watch);
  const documents = new OpenDocuments();
  const positions = new PositionConverter(workspace, documents);
  const sync = new WorkspaceSync({ workspace, documents, changed: () => checks.schedule() });
  // The numbers of each route.
  const routes = new RouteStores();
  const estimates = new Estimates(routes, now);
  const inlineEstimates = new InlineEstimates(estimates, routes);
  const firstEstimates = new FirstEstimates(inlineEstimates, routes);
  const techniqueEstimators = new TechniqueEstimators(estimates, routes);
  const panelReports = new PanelReports(estimates, routes);
  // What is wrong in them.
  const findings = new FindingStore(workspace, estimates, routes, watch);
  const publisher = new DiagnosticsPublisher(findings, positions, documents, publish);
  const checks: CheckScheduler = new CheckScheduler(
    { workspace, sync, routes, estimates, inlineEstimates, techniqueEstimators, findings, publisher },
    events,
  );
  return {
    client,
    workspace,
    documents,
    positions,
    sync,
    estimates,
    inlineEstimates,
    inlineEstimatesOf: (project) => checks.inlineEstimatesOf(project),
    firstEstimates,
    techniqueEstimators,
    panelReports,
    findings,
    checks,
    mentions: new LastMentions(),
    routeHints: new RouteHints(),
  };
}
