// Runs commands one after the other, away from the page, which stays alive meanwhile.
import { runCommand } from './wasi.js';

let command;

self.onmessage = async ({ data }) => {
  if (data.module) {
    command = data.module;
    return;
  }
  const { id, args, files, now } = data;
  self.postMessage({ id, ...(await runCommand(command, ['rangewright', ...args], files, now)) });
};
