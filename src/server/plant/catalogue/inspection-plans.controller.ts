import { Body, Controller, Get, Param, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { CatalogueService } from './catalogue.service.js';
import {
  DefectDto,
  DefectRevisionView,
  DefectView,
  InspectionPlanDto,
  InspectionPlanRevisionView,
  InspectionPlanView,
} from './inspection-plan.dto.js';

@Controller('inspection-plans')
export class InspectionPlansController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds the inspection plan of an item, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseInspectionPlan(@CurrentActor() actor: Actor, @Body() body: InspectionPlanDto): Promise<InspectionPlanView> {
    return this.catalogue.revise(actor, 'inspection-plan', body);
  }

  /** Every inspection plan as it stands, by item. */
  @Get()
  @May(...EVERYONE)
  listInspectionPlans(): Promise<InspectionPlanView[]> {
    return this.catalogue.list('inspection-plan');
  }

  /** The inspection plan of an item as it stands. */
  @Get(':item')
  @May(...EVERYONE)
  getInspectionPlan(@Param('item') code: string): Promise<InspectionPlanView> {
    return this.catalogue.one('inspection-plan', code);
  }

  /** Every revision of an inspection plan, first to last: when, by whom and why. */
  @Get(':item/history')
  @May(...EVERYONE)
  getInspectionPlanHistory(@Param('item') code: string): Promise<InspectionPlanRevisionView[]> {
    return this.catalogue.history('inspection-plan', code);
  }
}

@Controller('defects')
export class DefectsController {
  constructor(private readonly catalogue: CatalogueService) {}

  /** Adds a defect to the plant's list, or its next revision when `revision` and `reason` are given. */
  @Post()
  @May('administrator', 'quality')
  reviseDefect(@CurrentActor() actor: Actor, @Body() body: DefectDto): Promise<DefectView> {
    return this.catalogue.revise(actor, 'defect', body);
  }

  /** The plant's list of defects, by code. */
  @Get()
  @May(...EVERYONE)
  listDefects(): Promise<DefectView[]> {
    return this.catalogue.list('defect');
  }

  /** A defect as it stands. */
  @Get(':defect')
  @May(...EVERYONE)
  getDefect(@Param('defect') code: string): Promise<DefectView> {
    return this.catalogue.one('defect', code);
  }

  /** Every revision of a defect, first to last: when, by whom and why. */
  @Get(':defect/history')
  @May(...EVERYONE)
  getDefectHistory(@Param('defect') code: string): Promise<DefectRevisionView[]> {
    return this.catalogue.history('defect', code);
  }
}
