// Reads every YAML file below the current folder with the bare `yaml` library, one after the other, and does nothing else.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseDocument } from 'yaml';

for (const entry of readdirSync('.', { withFileTypes: true, recursive: true }))
  if (entry.isFile() && entry.name.endsWith('.yaml'))
    parseDocument(readFileSync(join(entry.parentPath, entry.name), 'utf8'));
