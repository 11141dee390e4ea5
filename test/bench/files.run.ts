import { writeImportFolder } from './plant-csv.js';
import { SIZES } from './plant.js';

await writeImportFolder(process.argv[2]!, SIZES.million);
