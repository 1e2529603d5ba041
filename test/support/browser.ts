import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type BrowserContext } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { findChromium } from '../../tools/chromium.mjs';

/** A headless Chromium for the tests of a file; `context` is there from the first test on. */
export function headlessBrowser(): { readonly context: () => BrowserContext } {
  let opened: BrowserContext | null = null;
  let profile = '';
  beforeAll(async () => {
    const executablePath = findChromium();
    if (executablePath === null) throw new Error('There is no Chromium: npm test installs it on Debian.');
    profile = mkdtempSync(path.join(tmpdir(), 'kinprint-browser-'));
    opened = await chromium.launchPersistentContext(profile, {
      executablePath,
      viewport: { width: 1280, height: 900 },
      // Nothing is to be fetched, and as root Chromium runs only without its sandbox.
      args: [
        '--no-sandbox',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--enable-unsafe-swiftshader',
      ],
    });
    // Pages are to stand by themselves.
    await opened.route(/^(https?|wss?):/, route => route.abort());
  });
  afterAll(async () => {
    await opened?.close();
    rmSync(profile, { recursive: true, force: true });
  });
  return {
    context: () => {
      if (opened === null) throw new Error('The browser is open in tests only.');
      return opened;
    },
  };
}
