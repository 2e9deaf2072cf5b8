namespace FruitWatch.Service.People;

/// <summary>Why something cannot be done to a member as things stand.</summary>
internal enum MemberRefusal
{
    /// <summary>Nobody changes their own role.</summary>
    OwnRole,

    /// <summary>Somebody has to answer for the cooperative.</summary>
    LastCoordinator,

    /// <summary>They accepted before.</summary>
    HasAccepted,

    /// <summary>There is no address to invite them by.</summary>
    NoAddress,

    /// <summary>They have not accepted yet, so that there is nothing to let in.</summary>
    NotAccepted,

    /// <summary>Links are for farm hands.</summary>
    NoFarmHand,

    /// <summary>They are not let in at present.</summary>
    NotActive,

    /// <summary>Another member was given the address at the same moment.</summary>
    AddressTaken,

    /// <summary>Too many invitations were sent within the hour.</summary>
    TooOften,
}

/// <inheritdoc cref="MemberRefusal"/>
internal sealed class MemberRefusedException(MemberRefusal why) : Exception(why.ToString())
{
    public MemberRefusal Why => why;
}
