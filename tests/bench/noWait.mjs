// Loaded before yaml-language-server: it then validates at once after an edit, where it otherwise waits 200 ms.
// There is no setting for that wait, so the class that holds its settings is replaced by one with the wait at 0.
import settings from 'yaml-language-server/out/server/src/yamlSettings.js';

settings.SettingsState = class extends settings.SettingsState {
  validationDelayMs = 0;
};
