import { Body, Controller, Get, Header, HttpCode, Post, Query } from '@nestjs/common';
import { ApiOkResponse, ApiProduces } from '@nestjs/swagger';
import { EVERYONE, May } from '../plant/people/access.js';
import { CheckCheckpointDto, type CheckpointCheckView, CheckpointQueryDto, CheckpointView } from './checkpoint.dto.js';
import { CheckpointService } from './checkpoint.service.js';

const PLAIN = 'text/plain; charset=utf-8';

@Controller('ledger')
export class CheckpointController {
  constructor(private readonly checkpoints: CheckpointService) {}

  /** How far the ledger goes, signed: entries, root of their tree, time of the last, and the public key to check it with. */
  @Get('checkpoint')
  @May(...EVERYONE)
  getCheckpoint(@Query() { size }: CheckpointQueryDto): Promise<CheckpointView> {
    return this.checkpoints.checkpoint(size);
  }

  /** The signed note of the checkpoint, to keep outside of this program. */
  @Get('checkpoint.txt')
  @May(...EVERYONE)
  @Header('content-type', PLAIN)
  @Header('content-disposition', 'attachment; filename="checkpoint.txt"')
  @ApiProduces('text/plain')
  @ApiOkResponse({ schema: { type: 'string' } })
  async getCheckpointNote(@Query() { size }: CheckpointQueryDto): Promise<string> {
    return (await this.checkpoints.checkpoint(size)).note;
  }

  /** The public key of the plant, PEM: what checkpoints are checked with. */
  @Get('checkpoint-key.pem')
  @May(...EVERYONE)
  @Header('content-type', PLAIN)
  @Header('content-disposition', 'attachment; filename="checkpoint-key.pem"')
  @ApiProduces('text/plain')
  @ApiOkResponse({ schema: { type: 'string' } })
  async getCheckpointKey(): Promise<string> {
    return (await this.checkpoints.checkpoint()).publicKey;
  }

  /** Checks a checkpoint of earlier: whose signature it bears, and whether the ledger of now is its continuation. Changes nothing. */
  @Post('checkpoint/checks')
  @HttpCode(200)
  @May(...EVERYONE)
  checkCheckpoint(@Body() { note }: CheckCheckpointDto): Promise<CheckpointCheckView> {
    return this.checkpoints.check(note);
  }
}
