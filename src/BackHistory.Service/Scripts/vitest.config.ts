import { defineConfig } from 'vitest/config';

// Pure parts only: what needs a page is pressed in a real browser by BackHistory.Browser.Tests.
export default defineConfig({ test: { environment: 'node', include: ['tests/**/*.test.ts'] } });
