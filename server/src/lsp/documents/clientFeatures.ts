/** The features that the client announced, as far as the server's answers depend on them. */
export interface ClientFeatures {
  /** Edits may carry a label, and a person may refuse labelled edits. */
  readonly annotations: boolean;
  /** Completions may have placeholders to fill in. */
  readonly snippets: boolean;
  /** A completion may show its detail in a line of its own, which is always visible. */
  readonly labelDetails: boolean;
  /** Applies edits that the server asks for. */
  readonly appliesEdits: boolean;
  /** Edits may create files. */
  readonly createsFiles: boolean;
  /** The server may ask the client to request code lenses again, inlay hints, and semantic tokens. */
  readonly refreshLenses: boolean;
  readonly refreshHints: boolean;
  readonly refreshTokens: boolean;
  /** Has a panel that a code lens can open. */
  readonly showsInPanel: boolean;
}

/** A client with none of these features. */
export const noClientFeatures: ClientFeatures = {
  annotations: false,
  snippets: false,
  labelDetails: false,
  appliesEdits: false,
  createsFiles: false,
  refreshLenses: false,
  refreshHints: false,
  refreshTokens: false,
  showsInPanel: false,
};
