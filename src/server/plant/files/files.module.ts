import { Module } from '@nestjs/common';
import { FilesController } from './files.controller.js';
import { FilesService } from './files.service.js';

/** Photographs, certificates and reports by the hash of their content, and which lot they belong to. */
@Module({ controllers: [FilesController], providers: [FilesService] })
export class FilesModule {}
