namespace BackHistory.History.Timeline;

/// <summary>Values of closed lists that stand in lines of the timeline. They are stored by name.</summary>
public enum TimelineWord
{
    CareRoleRider,
    CareRoleTrainer,
    CareRoleGroom,
    CareRoleFitter,
    CareRoleVeterinarian,
    CareRolePhysiotherapist,
    CareRoleFarrier,
    CareLayOff,
    CareIllness,
    CareVeterinary,
    CareFarriery,
    CarePhysiotherapy,
    CareGrowth,
    CareOther,
    WorkNone,
    WorkLight,
    WorkModerate,
    WorkHard,
    SideLeft,
    SideRight,
}
