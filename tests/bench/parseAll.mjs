// Parses every YAML file of the current folder with the bare `yaml` library, and does nothing else.
import { readdirSync, readFileSync } from 'node:fs';
import { parseDocument } from 'yaml';

for (const name of readdirSync('.')) if (name.endsWith('.yaml')) parseDocument(readFileSync(name, 'utf8'));
