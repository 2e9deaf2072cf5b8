using FruitWatch.Service.Webhooks;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Text;

// Programs that are told.
internal abstract partial class Words
{
    public abstract string WebhooksTitle { get; }

    public abstract string WebhooksLead { get; }

    public abstract string WebhooksNone { get; }

    /// <summary>Heading of the form.</summary>
    public abstract string WebhooksNew { get; }

    public abstract string WebhooksName { get; }

    public abstract string WebhooksAddress { get; }

    public abstract string WebhooksAddressSaid { get; }

    public abstract string WebhooksEvents { get; }

    public abstract string WebhooksAdd { get; }

    public abstract string WebhooksSave { get; }

    public abstract string WebhooksActive { get; }

    public abstract string WebhooksOff { get; }

    public abstract string WebhooksOn { get; }

    public abstract string WebhooksFull { get; }

    public abstract string WebhooksSecret { get; }

    public abstract string WebhooksSecretOnce { get; }

    public abstract string WebhooksRotate { get; }

    public abstract string WebhooksRotateSaid { get; }

    public abstract string WebhooksTest { get; }

    public abstract string WebhooksTested { get; }

    public abstract string WebhooksNotTested { get; }

    public abstract string WebhooksDelete { get; }

    public abstract string WebhooksDeleted { get; }

    public abstract string WebhooksSaved { get; }

    public abstract string WebhooksResend { get; }

    public abstract string WebhooksResent { get; }

    public abstract string WebhooksNotResent { get; }

    public abstract string WebhooksDeliveries { get; }

    public abstract string WebhooksNoDeliveries { get; }

    public abstract string WebhooksBody { get; }

    public abstract string WebhooksBodyGone { get; }

    public abstract string WebhooksChange { get; }

    public abstract string WebhooksGiveName { get; }

    public abstract string WebhooksGiveEvents { get; }

    public abstract string WebhooksNotTaken { get; }

    public abstract string WebhooksMade { get; }

    /// <summary>Link in a mail.</summary>
    public abstract string WebhooksOpen { get; }

    public abstract string WebhooksStoppedToDo { get; }

    /// <summary>Since when nothing arrives.</summary>
    public abstract string WebhooksFailingSince(string when);

    /// <summary>Until when both secrets are good.</summary>
    public abstract string WebhooksBothUntil(string when);

    public abstract string WebhooksAttempts(int count);

    public abstract string WebhooksNextTry(string when);

    /// <summary>Subject of the mail.</summary>
    public abstract string WebhooksStoppedSubject(string name);

    public abstract string WebhooksWhyYou(string cooperative);

    /// <summary>Why the service no longer sends, by its code.</summary>
    public abstract string WebhooksStoppedWhy(string why);

    public abstract string NameOf(DeliveryState state);

    /// <summary>What is wrong with an address.</summary>
    public abstract string Explain(AddressRefusal wrong);

    /// <summary>An event in words.</summary>
    public abstract string WebhooksEvent(string name);

    /// <summary>What an attempt ran into, by its code.</summary>
    public abstract string WebhooksError(string code, int? status);
}
