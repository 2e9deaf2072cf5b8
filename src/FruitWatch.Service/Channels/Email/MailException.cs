namespace FruitWatch.Service.Channels.Email;

/// <summary>A setting, or a mail in the outbox, from which no message can be made. Says what is wrong and what to write.</summary>
internal sealed class MailException(string message, Exception? cause = null) : Exception(message, cause);
