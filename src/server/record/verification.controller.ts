import { Body, Controller, Get, HttpCode, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, May } from '../plant/people/access.js';
import { StartVerificationDto, VerificationView } from './verification.dto.js';
import { VerificationService } from './verification.service.js';

@Controller('ledger/verifications')
export class VerificationController {
  constructor(private readonly verifications: VerificationService) {}

  /** Starts a check of the whole record beside the work, or answers the one that runs; ask for it again to see how far it is. */
  @Post()
  @HttpCode(202)
  @May('auditor', 'quality', 'administrator')
  startVerification(@CurrentActor() actor: Actor, @Body() body: StartVerificationDto): Promise<VerificationView> {
    return this.verifications.start(actor, body);
  }

  /** The latest 50 checks of the record, newest first. */
  @Get()
  @May('auditor', 'quality', 'administrator')
  listVerifications(): Promise<VerificationView[]> {
    return this.verifications.list();
  }

  /** How far a check is, or what it found. */
  @Get(':verification')
  @May('auditor', 'quality', 'administrator')
  getVerification(@Param('verification') verification: string): Promise<VerificationView> {
    return this.verifications.get(verification);
  }
}
