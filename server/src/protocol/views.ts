/**
 * What the client and the server say to each other about the views in words: odds, review, comparison.
 * Types and names only: both sides import this module.
 */

/** A view: a Markdown text to be shown, or a sentence that says why there is none. */
export type ViewResult = { readonly markdown: string } | { readonly message: string };

/** Client → server: the odds of the next run along the route that a file belongs to. */
export const oddsRequest = 'routewright/odds';
export interface OddsParams {
  /** Any file of the project. */
  readonly uri: string;
}

/** Client → server: what the last week says, of the route that a file belongs to. */
export const reviewRequest = 'routewright/review';
export interface ReviewParams {
  readonly uri: string;
}

/** Client → server: two routes, or one at two revisions, held against each other. */
export const compareRequest = 'routewright/compare';
export interface CompareParams {
  readonly a: RouteRevision;
  readonly b: RouteRevision;
}
export interface RouteRevision {
  /** A route file. */
  readonly uri: string;
  /** A git revision; left out, the file as it stands in the editor. */
  readonly revision?: string;
}

/**
 * Server → client: a file as git has it at a revision. Reading it starts git, and only the client knows whether the
 * person trusts the folder, so it is the client that decides and starts it, at the moment of asking.
 */
export const readRevisionRequest = 'routewright/readRevision';
export interface ReadRevisionParams {
  readonly uri: string;
  readonly revision: string;
}
export type ReadRevisionResult = { readonly text: string } | { readonly message: string };
