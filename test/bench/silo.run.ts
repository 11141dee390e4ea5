import { ImportService } from '../../src/server/plant/import/import.service.js';
import { benchConfig, filesIn, openApp } from './bench-plant.js';
import { writeImportFolder } from './plant-csv.js';
import { SIZES } from './plant.js';

/** Brings over, in a process of its own, the plant in which one lot reaches more than 5,000 others. */
const folder = process.argv[2]!;
await writeImportFolder(filesIn(folder), SIZES.silo);
const app = await openApp(benchConfig(folder));
const report = await app.get(ImportService).importFolder(filesIn(folder), { actor: { person: 'bench', roles: ['administrator'] } });
if (!report.ok) throw new Error(`the files have faults: ${JSON.stringify(report.faults.slice(0, 3))}`);
await app.close();
