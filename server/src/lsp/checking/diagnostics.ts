import { shownQuotes } from '../../text/shownQuotes.ts';
import { DiagnosticSeverity, type Diagnostic, type PublishDiagnosticsParams } from 'vscode-languageserver';
import type { Finding } from '../../rules/engine/findings.ts';
import type { Severity } from '../../rules/engine/rule.ts';
import type { FindingStore } from './findingStore.ts';
import type { OpenDocuments } from '../documents/openDocuments.ts';
import type { PositionConverter } from '../documents/positionConverter.ts';

/** The name that an editor shows as the source of a finding. */
const diagnosticSource = 'routewright';

/** More findings in one file help nobody and slow the editor down. */
const maxDiagnostics = 500;

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  hint: DiagnosticSeverity.Information,
};

/** The data of a diagnostic, for a client that wants to offer the fix itself. */
export interface FixData {
  readonly fix?: { readonly title: string; readonly uri: string; readonly text: string };
}

/** A finding as a diagnostic of the protocol. */
export function diagnosticOf(
  finding: Finding,
  places: PositionConverter,
  documents: OpenDocuments,
): Diagnostic {
  const { uri, code, severity, message, related, fix } = finding;
  const data: FixData | undefined = fix && {
    fix: { title: shownQuotes(fix.title), uri: fix.uri, text: fix.text },
  };
  return {
    range: places.range(uri, finding),
    severity: severities[severity],
    code,
    source: diagnosticSource,
    message: shownQuotes(message),
    ...(related.length > 0 && {
      relatedInformation: related.map((other) => ({
        location: {
          uri: documents.spelling(other.uri),
          range: places.range(other.uri, other),
        },
        message: shownQuotes(other.message),
      })),
    }),
    ...(data && { data }),
  };
}

/**
 * Sends the client the findings of each file, and sends them again only where something changed: the file's own
 * version, or its findings.
 */
export class DiagnosticsPublisher {
  private readonly store: FindingStore;
  private readonly places: PositionConverter;
  private readonly documents: OpenDocuments;
  private readonly send: (params: PublishDiagnosticsParams) => void;
  /** The last diagnostics that the client received, by file. */
  private readonly published = new Map<
    string,
    { readonly text: string; readonly version: number | undefined }
  >();

  constructor(
    store: FindingStore,
    places: PositionConverter,
    documents: OpenDocuments,
    send: (params: PublishDiagnosticsParams) => void,
  ) {
    this.store = store;
    this.places = places;
    this.documents = documents;
    this.send = send;
  }

  /**
   * Checks and publishes; returns whether anything was sent.
   *
   * @param certain false for a finding that may soon prove wrong; it is not sent yet
   */
  publish(certain: (finding: Finding) => boolean = () => true): boolean {
    const found = this.store.checkAll();
    const uris = new Set([...this.documents.uris(), ...found.keys(), ...this.published.keys()]);
    let said = false;
    for (const uri of uris) {
      const diagnostics = this.shown((found.get(uri) ?? []).filter(certain));
      const version = this.documents.version(uri);
      const text = JSON.stringify(diagnostics);
      const before = this.published.get(uri);
      const nothing = diagnostics.length === 0 && version === undefined;
      if (before ? before.text === text && before.version === version : nothing) continue;
      if (nothing) this.published.delete(uri);
      else this.published.set(uri, { text, version });
      this.send({
        uri: this.documents.spelling(uri),
        diagnostics,
        ...(version !== undefined && { version }),
      });
      said = true;
    }
    return said;
  }

  private shown(findings: readonly Finding[]): Diagnostic[] {
    const diagnostics = findings
      .slice(0, maxDiagnostics)
      .map((finding) => diagnosticOf(finding, this.places, this.documents));
    const left = findings.length - diagnostics.length;
    const last = diagnostics.at(-1);
    if (left > 0 && last) {
      const message = `${left} more findings below are not shown until some of these are mended.`;
      diagnostics.push({
        range: last.range,
        severity: DiagnosticSeverity.Information,
        code: 'more-findings',
        source: diagnosticSource,
        message,
      });
    }
    return diagnostics;
  }
}
