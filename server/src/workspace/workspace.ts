import { fileKindOf, type FileKind } from '../files/fileKind.ts';
import { LogDocumentBuilder } from '../files/documents/logDocuments.ts';
import { PoolDocumentBuilder } from '../files/documents/poolDocument.ts';
import { readSource, type Reading, unreadReading } from '../files/reading/reading.ts';
import { isUnread, maxCharactersTogether, type Unread } from '../files/reading/unread.ts';
import { RouteDocumentBuilder } from '../files/documents/routeDocument.ts';
import { buildWeekDocument } from '../files/documents/weekDocument.ts';
import { folderOf } from './folderOf.ts';
import type { FileSource } from './fileSource.ts';
import { DefinitionCache, groupFiles, ownPools, type GroupedFiles } from './groupFiles.ts';
import type { ProjectFile, Project } from './project.ts';
import { askedRunnersOf, runnerFilesOf } from './runnerFiles.ts';
import { unwatched, type WorkWatch } from './workWatch.ts';

/**
 * The known files, with their text from the disk or, for an open file, from the editor. Everything that was read is
 * kept here and freed with the file.
 */
export class Workspace {
  private readonly files = new Map<string, ProjectFile>();
  private readonly open = new Set<string>();
  /** Of all files together. */
  private characters = 0;
  private folders: readonly string[];
  private cachedGroups: GroupedFiles | undefined;
  private readonly routes = new RouteDocumentBuilder();
  private readonly logs = new LogDocumentBuilder();
  private readonly pools = new PoolDocumentBuilder();
  private readonly definitions = new DefinitionCache();
  private readonly source: FileSource;
  private readonly watch: WorkWatch;
  private readonly heldBack = new Set<string>();
  private chosenRunners: ReadonlyMap<string, string> = new Map();
  private isGiven: ((uri: string) => boolean) | undefined;
  /** Projects as they are asked about by a file of one runner, by that runner's name. */
  private readonly askedProjects = new WeakMap<Project, Map<string, Project>>();

  /**
   * @param folders URIs of the folders that the user opened; nothing outside them is read unless opened
   * @param watch learns which file is read
   */
  constructor(source: FileSource, folders: readonly string[] = [], watch = unwatched) {
    this.source = source;
    this.folders = folders;
    this.watch = watch;
  }

  /**
   * Reads every file in the folders that is not open in the editor. Ends early where other folders are set meanwhile:
   * those need a load of their own.
   */
  async load(): Promise<void> {
    const { folders } = this;
    const found = (await Promise.all(folders.map((folder) => this.source.list(folder)))).flat();
    if (this.folders !== folders) return;
    const listed = new Set(found);
    for (const uri of [...this.files.keys()]) if (!listed.has(uri) && !this.open.has(uri)) this.forget(uri);
    await Promise.all(found.map((uri) => this.reload(uri)));
  }

  /** Leaves the texts of these files unread until `release`: an earlier server never got to the end of them. */
  holdBack(uris: readonly string[]): void {
    for (const uri of uris) this.heldBack.add(uri);
  }

  /** A file has changed: its next text is read. */
  release(uri: string): void {
    this.heldBack.delete(uri);
  }

  setFolders(folders: readonly string[]): void {
    this.folders = folders;
    this.cachedGroups = undefined;
  }

  /**
   * Sets whose logs count in folders with logs of several runners.
   *
   * @param chosen by the URI of a route's folder, without a slash at its end: the runner's name
   */
  setChosenRunners(chosen: ReadonlyMap<string, string>): void {
    this.chosenRunners = chosen;
    this.cachedGroups = undefined;
  }

  /** Says which files a command is about: it is about the runners whom they name. */
  setGiven(isGiven: (uri: string) => boolean): void {
    this.isGiven = isGiven;
    this.cachedGroups = undefined;
  }

  /** Reads a file from its source again, unless it is open in the editor: then the editor's text counts. */
  async reload(uri: string): Promise<void> {
    if (this.open.has(uri) || !fileKindOf(uri) || !this.contains(uri)) return;
    const { folders } = this;
    const found = await this.read(uri);
    // While it was being read, the editor opened it, or folders were set that it may not be in.
    if (this.open.has(uri) || this.folders !== folders) return;
    if (found === undefined) this.forget(uri);
    else this.set(uri, this.fits(uri, found) ? found : { why: 'too-much', detail: '' });
  }

  /** A file's text as its source has it; undefined where there is no such file, and otherwise why it was not read. */
  read(uri: string): Promise<string | Unread | undefined> {
    const within = this.folders.length > 0 ? this.folders : [...new Set([...this.open].map(folderOf))];
    return this.source.read(uri, within);
  }

  /** The editor's text of a file, from when it is opened until it is closed. */
  edit(uri: string, text: string): void {
    this.open.add(uri);
    this.set(uri, text);
  }

  /** The editor closed a file: the saved text counts again. */
  async close(uri: string): Promise<void> {
    this.open.delete(uri);
    if (this.contains(uri)) await this.reload(uri);
    else this.forget(uri);
  }

  forget(uri: string): void {
    this.characters -= this.lengthOf(uri);
    if (this.files.delete(uri)) this.cachedGroups = undefined;
  }

  file(uri: string): ProjectFile | undefined {
    return this.files.get(uri);
  }

  isOpen(uri: string): boolean {
    return this.open.has(uri);
  }

  all(): readonly ProjectFile[] {
    return [...this.files.values()];
  }

  /** Whether a URI lies in one of the folders that the user opened; with none open, everything does. */
  contains(uri: string): boolean {
    return this.folders.length === 0 || this.folders.some((folder) => uri.startsWith(`${folder}/`));
  }

  groups(): GroupedFiles {
    this.cachedGroups ??= this.group();
    return this.cachedGroups;
  }

  private group(): GroupedFiles {
    const inside = (uri: string): boolean => this.contains(uri);
    const groups = groupFiles(this.files, inside, this.definitions, this.chosenRunners);
    const { isGiven } = this;
    if (isGiven === undefined) return groups;
    const projects = groups.projects.map((project) => ({
      ...project,
      askedRunners: askedRunnersOf(project, isGiven),
    }));
    return { ...groups, projects };
  }

  /**
   * The projects that a file belongs to: one for a log or a week file, several for a route that other routes extend
   * and for its pools.
   */
  projectsOf(uri: string): readonly Project[] {
    return this.groups().projects.filter((project) => filesOf(project).some((file) => file.uri === uri));
  }

  /**
   * The main project of a file, for requests that name a file: that of the file's own route comes first. Asked about by a
   * file of one runner, it is that runner's, unless somebody else was chosen.
   */
  projectOf(uri: string): Project | undefined {
    const project = this.mainProjectOf(uri);
    const [runner] = (project && askedRunnersOf(project, (other) => other === uri)) ?? [];
    return project && runner !== undefined ? this.askedProject(project, runner) : project;
  }

  /** All projects, and besides each that an open file of one runner asks about in another way. */
  projectsInUse(): readonly Project[] {
    const asked = [...this.open].flatMap((uri) => this.projectOf(uri) ?? []);
    return [...new Set([...this.groups().projects, ...asked])];
  }

  private mainProjectOf(uri: string): Project | undefined {
    const projects = this.projectsOf(uri);
    const named = (file: { uri: string }) => file.uri === uri;
    return (
      projects.find(({ route }) => route.uri === uri) ??
      projects.find(({ runs, weeks }) => runs.some(named) || weeks.some(named)) ??
      projects.find((project) => ownPools(project).some(named)) ??
      projects[0]
    );
  }

  /** The same object each time, and the project itself where that runner's files count anyway. */
  private askedProject(project: Project, runner: string): Project {
    const known = this.askedProjects.get(project) ?? new Map<string, Project>();
    this.askedProjects.set(project, known);
    const before = known.get(runner);
    if (before) return before;
    const asked: Project = { ...project, askedRunners: [runner] };
    const [own, ownAsked] = [runnerFilesOf(project), runnerFilesOf(asked)];
    const same = 'runners' in ownAsked || (!('runners' in own) && own.runner === ownAsked.runner);
    known.set(runner, same ? project : asked);
    return same ? project : asked;
  }

  private set(uri: string, found: string | Unread): void {
    const kind = fileKindOf(uri);
    if (!kind) return;
    const last = this.files.get(uri)?.reading;
    // What is not read is no earlier text of the file.
    const before = last?.unread ? undefined : last;
    const file = this.watch.on(uri, () => {
      const reading = this.readingOf(uri, kind, found, before);
      return reading === before ? undefined : this.fileOf(uri, reading, before);
    });
    if (!file) return;
    this.characters += file.reading.text.length - this.lengthOf(uri);
    this.files.set(uri, file);
    this.cachedGroups = undefined;
  }

  private readingOf(
    uri: string,
    kind: FileKind,
    found: string | Unread,
    before: Reading | undefined,
  ): Reading {
    if (isUnread(found)) return unreadReading(kind, found);
    // Not even its text is kept: nothing can be worked out of it.
    if (this.heldBack.has(uri)) return unreadReading(kind, { why: 'held-back', detail: '' });
    return readSource(kind, found, before);
  }

  private lengthOf(uri: string): number {
    return this.files.get(uri)?.reading.text.length ?? 0;
  }

  /** Whether there is room for a text beside those of the other files. */
  private fits(uri: string, found: string | Unread): boolean {
    if (isUnread(found)) return true;
    return this.characters - this.lengthOf(uri) + found.length <= maxCharactersTogether;
  }

  private fileOf(uri: string, reading: Reading, before: Reading | undefined): ProjectFile {
    switch (reading.kind) {
      case 'route':
        return { kind: 'route', uri, reading, document: this.routes.build(reading, before) };
      case 'practice':
        return { kind: 'practice', uri, reading, document: this.logs.practice(reading, before) };
      case 'runs':
        return { kind: 'runs', uri, reading, document: this.logs.runs(reading, before) };
      case 'week':
        return { kind: 'week', uri, reading, document: buildWeekDocument(reading) };
      case 'pool':
        return { kind: 'pool', uri, reading, document: this.pools.build(reading, before) };
    }
  }
}

/** Every file of a project. */
export function filesOf(project: Project): readonly { readonly uri: string; readonly reading: Reading }[] {
  return [
    project.route,
    ...project.bases,
    ...project.practice,
    ...project.runs,
    ...project.weeks,
    ...project.pools,
  ];
}
