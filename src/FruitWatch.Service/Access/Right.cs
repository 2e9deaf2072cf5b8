namespace FruitWatch.Service.Access;

/// <summary>What somebody may do. Every page and every operation names one, or says that it is for everybody.</summary>
internal enum Right
{
    /// <summary>Sites and beds as they stand: outlooks, notices, the log.</summary>
    ReadBeds,

    /// <summary>What was and what may be: season plans, how good the forecasts were, climate.</summary>
    ReadRecords,

    /// <summary>Weather feeds and how they answer.</summary>
    ReadFeeds,

    /// <summary>Mails that went out: a coordinator all, others their own.</summary>
    ReadMails,

    /// <summary>Log entries. At a bed, see <see cref="BedAccess"/>.</summary>
    WriteLog,

    /// <summary>Making and changing beds. At a bed, see <see cref="BedAccess"/>.</summary>
    ManageBeds,

    /// <summary>Making and changing sites.</summary>
    ManageSites,

    /// <summary>Trying, saving and removing feeds.</summary>
    ManageFeeds,

    /// <summary>Members, invitations, personal links.</summary>
    ManagePeople,

    /// <summary>The cooperative itself: its settings, webhooks, everybody's tokens, audit, export, its end.</summary>
    ManageCooperative,

    /// <summary>Own name, language, units and hours.</summary>
    OwnSettings,

    /// <summary>Own tokens, and the page of own settings.</summary>
    OwnAccount,

    /// <summary>Own way of signing in: whoever has signed in, member or not; no token and no personal link.</summary>
    OwnSignIn,

    /// <summary>The service itself: its jobs and its health.</summary>
    Operate,
}
