#!/usr/bin/env node
import '../dist/app/main.js';
