/** What the client said that it can do, as far as answers differ by it. */
export interface ClientFeatures {
  /** Edits may carry a label, and a person may leave labelled ones out. */
  readonly annotations: boolean;
  /** Completions may have places to fill in. */
  readonly snippets: boolean;
  /** A completion may show its detail in a line of its own, which is always visible. */
  readonly labelDetails: boolean;
  /** Applies edits that the server asks for. */
  readonly appliesEdits: boolean;
  /** Edits may create files. */
  readonly createsFiles: boolean;
  /** Can be told to request code lenses again, and inlay hints. */
  readonly refreshLenses: boolean;
  readonly refreshHints: boolean;
  /** Has a panel that a lens can open. */
  readonly showsInPanel: boolean;
}

/** A client that can do nothing of this. */
export const noClientFeatures: ClientFeatures = {
  annotations: false,
  snippets: false,
  labelDetails: false,
  appliesEdits: false,
  createsFiles: false,
  refreshLenses: false,
  refreshHints: false,
  showsInPanel: false,
};
